//! Filling in the `{{names}}` of the files in `public/`, and a light shrinking of the stylesheet.

use anyhow::{Result, bail};

/// Puts each value in the place of its `{{name}}`.
///
/// # Errors
/// When a name in the text has no value.
pub(crate) fn fill(text: &str, values: &[(&str, &str)]) -> Result<String> {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("{{") {
        let Some((name, tail)) = after.split_once("}}") else { bail!("a placeholder is not closed") };
        let Some((_, value)) = values.iter().find(|(known, _)| *known == name) else {
            bail!("nothing is known for the placeholder {name}");
        };
        out.push_str(before);
        out.push_str(value);
        rest = tail;
    }
    out.push_str(rest);
    Ok(out)
}

/// A stylesheet without comments, indentation and empty lines.
pub(crate) fn shrink_css(css: &str) -> String {
    let mut bare = String::with_capacity(css.len());
    let mut rest = css;
    while let Some((before, after)) = rest.split_once("/*") {
        bare.push_str(before);
        rest = after.split_once("*/").map_or("", |(_, tail)| tail);
    }
    bare.push_str(rest);
    bare.lines().map(str::trim).filter(|line| !line.is_empty()).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fills_every_place_and_refuses_an_unknown_name() {
        let values = [("base", "/sub/"), ("css", "a.css")];
        assert_eq!(fill("<{{base}}|{{css}}|{{base}}>", &values).unwrap(), "</sub/|a.css|/sub/>");
        assert!(fill("{{other}}", &values).is_err());
        assert!(fill("{{base", &values).is_err());
    }

    #[test]
    fn a_stylesheet_loses_comments_and_indentation_only() {
        let css = "/* a */\n.b {\n  color: red; /* c */\n}\n\n@media print {\n  .b { margin: 0 }\n}\n";
        assert_eq!(shrink_css(css), ".b {\ncolor: red;\n}\n@media print {\n.b { margin: 0 }\n}");
    }
}
