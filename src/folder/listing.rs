//! What a folder's listing says: the answer to PROPFIND (RFC 4918, section 9.1), read as far as it is needed.
//!
//! Of each member: the last piece of its address, its entity tag, its size. Prefixes of names are passed over, whatever namespace they
//! stand for; a document type is refused, so that no entity but XML's own five is ever expanded.

use uuid::Uuid;

use crate::record::{AirframeId, Digest};

/// Most members that are taken from one listing.
const MOST: usize = 20_000;
/// Deepest nesting that is read.
const DEEPEST: usize = 40;

/// One member of a folder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listed {
    /// The last piece of its address, percent signs resolved.
    pub name: String,
    /// Its entity tag in quotes, `W/` before it where the server says that it is weak; none when there is none or it is no tag.
    pub tag: Option<String>,
    /// Its size in bytes, where the server says it.
    pub bytes: Option<u64>,
}

/// Reads a listing. `None` when it is not one.
#[must_use]
pub fn listing(text: &str) -> Option<Vec<Listed>> {
    let mut rest = text.trim_start_matches('\u{feff}');
    let mut open: Vec<&str> = Vec::new();
    let mut found: Vec<Listed> = Vec::new();
    let mut member = Listed::default();
    let mut words = String::new();
    while let Some(at) = rest.find('<') {
        unescape(&rest[..at], &mut words)?;
        rest = &rest[at..];
        if let Some(cdata) = rest.strip_prefix("<![CDATA[") {
            let (inside, after) = cdata.split_once("]]>")?;
            words.push_str(inside);
            rest = after;
            continue;
        }
        if let Some(comment) = rest.strip_prefix("<!--") {
            rest = comment.split_once("-->")?.1;
            continue;
        }
        if let Some(instruction) = rest.strip_prefix("<?") {
            rest = instruction.split_once("?>")?.1;
            continue;
        }
        let end = tag_end(rest)?;
        let tag = &rest[1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            let name = local(name.trim_end())?;
            if open.pop()? != name {
                return None;
            }
            take(&mut member, &open, name, words.trim());
            if name == "response" {
                found.push(std::mem::take(&mut member));
                if found.len() > MOST {
                    return None;
                }
            }
        } else if !tag.ends_with('/') {
            open.push(local(tag.split_whitespace().next()?)?);
            if open[0] != "multistatus" || open.len() > DEEPEST {
                return None;
            }
        } else if open.is_empty() {
            // A folder that lists nothing, not even itself, is no folder.
            return None;
        }
        words.clear();
    }
    (open.is_empty() && !found.is_empty() && rest.trim().is_empty()).then_some(found)
}

/// Takes what stood in an element that ends, if it is one of the three that are needed and stands where it belongs.
fn take(member: &mut Listed, open: &[&str], name: &str, words: &str) {
    match (open, name) {
        (["multistatus", "response"], "href") if member.name.is_empty() => {
            member.name = last_piece(words).unwrap_or_default();
        }
        (["multistatus", "response", "propstat", "prop"], "getetag") => member.tag = entity_tag(words),
        (["multistatus", "response", "propstat", "prop"], "getcontentlength") => member.bytes = words.parse().ok(),
        _ => {}
    }
}

/// Where a tag ends; a `>` inside quotes is not the end.
fn tag_end(text: &str) -> Option<usize> {
    let mut quote = None;
    for (at, letter) in text.char_indices() {
        match (quote, letter) {
            (None, '>') => return Some(at),
            (None, '"' | '\'') => quote = Some(letter),
            (Some(open), _) if open == letter => quote = None,
            _ => {}
        }
    }
    None
}

/// A name without its prefix. Declarations (`!DOCTYPE`) are no names.
fn local(name: &str) -> Option<&str> {
    let plain = |letter: char| letter.is_alphanumeric() || matches!(letter, '-' | '_' | '.' | ':');
    (!name.is_empty() && name.chars().all(plain)).then(|| name.rsplit(':').next().unwrap_or(name))
}

/// XML's five entities, and characters by number.
fn unescape(text: &str, into: &mut String) -> Option<()> {
    let mut pieces = text.split('&');
    into.push_str(pieces.next()?);
    for piece in pieces {
        let (name, after) = piece.split_once(';')?;
        into.push(match name {
            "amp" => '&',
            "lt" => '<',
            "gt" => '>',
            "quot" => '"',
            "apos" => '\'',
            _ => {
                let number = name.strip_prefix('#')?;
                let code = number.strip_prefix('x').map_or_else(|| number.parse(), |hex| u32::from_str_radix(hex, 16));
                char::from_u32(code.ok()?)?
            }
        });
        into.push_str(after);
    }
    Some(())
}

/// The last piece of an address, percent signs resolved.
fn last_piece(address: &str) -> Option<String> {
    let piece = address.trim_end_matches('/').rsplit('/').next()?;
    let mut bytes = Vec::with_capacity(piece.len());
    let mut letters = piece.bytes();
    while let Some(letter) = letters.next() {
        bytes.push(if letter == b'%' {
            let digit = |letter: Option<u8>| char::from(letter?).to_digit(16);
            u8::try_from(digit(letters.next())? * 16 + digit(letters.next())?).ok()?
        } else {
            letter
        });
    }
    String::from_utf8(bytes).ok()
}

/// An entity tag (RFC 9110, section 8.8.3) as it is sent. Some servers list it without its quotes.
pub(super) fn entity_tag(text: &str) -> Option<String> {
    let (weak, opaque) = text.trim().strip_prefix("W/").map_or(("", text.trim()), |opaque| ("W/", opaque));
    let inside = opaque.strip_prefix('"').and_then(|inside| inside.strip_suffix('"')).unwrap_or(opaque);
    let good =
        !inside.is_empty() && inside.len() <= 300 && inside.bytes().all(|byte| byte.is_ascii_graphic() && byte != b'"');
    good.then(|| format!("{weak}\"{inside}\""))
}

/// What a device's file of an airframe is called.
pub(super) fn file_name(airframe: AirframeId, device: Uuid) -> String {
    format!("{airframe}_{device}.json")
}

/// Whose file of which airframe has this name; none for a name that the app would not give.
pub(super) fn file_of(name: &str) -> Option<(AirframeId, Uuid)> {
    let (airframe, device) = name.strip_suffix(".json")?.split_once('_')?;
    let (airframe, device) = (airframe.parse().ok()?, device.parse().ok()?);
    (file_name(airframe, device) == name).then_some((airframe, device))
}

/// The photo that has this name.
pub(super) fn photo_of(name: &str) -> Option<Digest> {
    name.strip_suffix(".jpg")?.parse().ok()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Listed, entity_tag, file_of, listing, photo_of};

    /// RFC 4918, section 9.1.5 (from memory, shortened): a folder and a file of it.
    const OF_THE_STANDARD: &str = r#"<?xml version="1.0" encoding="utf-8" ?>
<D:multistatus xmlns:D="DAV:">
  <D:response>
    <D:href>/container/</D:href>
    <D:propstat>
      <D:prop xmlns:R="http://ns.example.com/boxschema/">
        <R:bigbox><R:BoxType>Box type A</R:BoxType></R:bigbox>
        <D:resourcetype><D:collection/></D:resourcetype>
      </D:prop>
      <D:status>HTTP/1.1 200 OK</D:status>
    </D:propstat>
  </D:response>
  <D:response>
    <D:href>/container/front.html</D:href>
    <D:propstat>
      <D:prop>
        <D:displayname>Example HTML resource</D:displayname>
        <D:getcontentlength>4525</D:getcontentlength>
        <D:getetag>"zzyzx"</D:getetag>
        <D:supportedlock><D:lockentry><D:locktype><D:write/></D:locktype></D:lockentry></D:supportedlock>
      </D:prop>
      <D:status>HTTP/1.1 200 OK</D:status>
    </D:propstat>
  </D:response>
</D:multistatus>
"#;

    fn of(name: &str, tag: Option<&str>, bytes: Option<u64>) -> Listed {
        Listed { name: name.to_owned(), tag: tag.map(str::to_owned), bytes }
    }

    #[test]
    fn the_standards_example_is_read() {
        let expected = [of("container", None, None), of("front.html", Some("\"zzyzx\""), Some(4525))];
        assert_eq!(listing(OF_THE_STANDARD).as_deref(), Some(&expected[..]));
    }

    #[test]
    fn other_spellings_say_the_same() {
        let one =
            |inside: &str| listing(&format!("<multistatus xmlns=\"DAV:\"><response>{inside}</response></multistatus>"));
        let prop = |inside: &str| one(&format!("<href>x</href><propstat><prop>{inside}</prop></propstat>"));
        assert_eq!(
            one("<href>http://elsewhere.example/a%20b/%C3%BC.json</href>"),
            Some(vec![of("ü.json", None, None)])
        );
        assert_eq!(one("<!-- <href>y</href> --><href><![CDATA[/a/b/]]></href>"), Some(vec![of("b", None, None)]));
        assert_eq!(prop("<getetag>W/&quot;1&amp;2&quot;</getetag>"), Some(vec![of("x", Some("W/\"1&2\""), None)]));
        assert_eq!(
            prop("<lp1:getetag xmlns:lp1='DAV:' a='>'>3&#x2d;4</lp1:getetag>"),
            Some(vec![of("x", Some("\"3-4\""), None)])
        );
        assert_eq!(prop("<getetag></getetag><getcontentlength/>"), Some(vec![of("x", None, None)]));
    }

    #[test]
    fn what_is_no_listing_is_refused() {
        let cut = &OF_THE_STANDARD[..OF_THE_STANDARD.len() - 20];
        let typed = OF_THE_STANDARD.replace("<D:multi", "<!DOCTYPE a [<!ENTITY b \"c\">]><D:multi");
        let entity = OF_THE_STANDARD.replace("Box type A", "&b;");
        let crossed = OF_THE_STANDARD.replace("</D:prop>", "</D:propstat>");
        for wrong in ["", "no", "<html><body>Log in</body></html>", "<multistatus/>", cut, &typed, &entity, &crossed] {
            assert_eq!(listing(wrong), None, "{wrong}");
        }
    }

    /// RFC 9110, section 8.8.3: what an entity tag may hold.
    #[test]
    fn tags_are_sent_as_they_were_meant() {
        assert_eq!(entity_tag("\"a-b\"").as_deref(), Some("\"a-b\""));
        assert_eq!(entity_tag(" a-b ").as_deref(), Some("\"a-b\""));
        assert_eq!(entity_tag("W/\"a\"").as_deref(), Some("W/\"a\""));
        for wrong in ["", "\"\"", "\"a\"b\"", "\"a b\"", "\"a\r\nX: y\"", "ü", &"a".repeat(301)] {
            assert_eq!(entity_tag(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn only_names_that_the_app_gives_are_known() {
        let name = "01920000-0000-7000-8000-00000000000a_01920000-0000-7000-8000-0000000000ff.json";
        assert!(file_of(name).is_some());
        assert!(photo_of("ungWv48Bz-pBQUDeXa4iI7ADYaOWF3qctBD_YfIAFa0.jpg").is_some());
        for wrong in [&name.to_uppercase(), &name.replace('-', ""), &name[1..], "../x_y.json", "_.json", "a.jpg"] {
            assert!(file_of(wrong).is_none() && photo_of(wrong).is_none(), "{wrong}");
        }
    }

    proptest! {
        /// Whatever a server answers, reading it ends and does not break off.
        #[test]
        fn anything_is_read_or_refused(at in 0..OF_THE_STANDARD.len(), junk in "[<>/&;#!\\[\\]a-z\"' %\u{fc}-]{0,12}") {
            let mut text = OF_THE_STANDARD.to_owned();
            text.insert_str(at, &junk);
            if let Some(found) = listing(&text) {
                prop_assert!(found.len() < 20);
            }
            let _ = listing(&junk);
        }
    }
}
