//! Markup that is this program's own, text that is anybody's: the two never mix.

use crate::language::words;
use crate::record::{Digest, drawn_path};
use crate::sketch::{Element, Sketch};

/// A part of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// Text of the page, as it is.
    Text(String),
    /// Here goes the file of a photo as base64 (RFC 4648, section 4).
    Photo(Digest),
}

/// Writes a page. Markup can only be a text of the program (`'static`); everything else is escaped.
#[derive(Default)]
pub(super) struct Pen {
    done: Vec<Piece>,
    text: String,
}

impl Pen {
    /// Markup.
    pub(super) fn markup(&mut self, markup: &'static str) -> &mut Self {
        self.text.push_str(markup);
        self
    }

    /// Text, inside an element or an attribute's quotes.
    pub(super) fn text(&mut self, text: &str) -> &mut Self {
        for character in text.chars() {
            match character {
                '&' => self.text.push_str("&amp;"),
                '<' => self.text.push_str("&lt;"),
                '>' => self.text.push_str("&gt;"),
                '"' => self.text.push_str("&quot;"),
                '\'' => self.text.push_str("&#39;"),
                '\n' | '\t' => self.text.push(character),
                // What no XML 1.0 document may hold (section 2.2), and the controls that HTML does not want either.
                control if control.is_control() => self.text.push(char::REPLACEMENT_CHARACTER),
                '\u{fffe}' | '\u{ffff}' => self.text.push(char::REPLACEMENT_CHARACTER),
                other => self.text.push(other),
            }
        }
        self
    }

    /// Text in an element.
    pub(super) fn put(&mut self, open: &'static str, text: &str, close: &'static str) -> &mut Self {
        self.markup(open).text(text).markup(close)
    }

    /// The head of a table, and the beginning of its body.
    pub(super) fn columns(&mut self, titles: &[&str]) -> &mut Self {
        self.markup("<thead><tr>");
        for title in titles {
            self.put("<th>", title, "</th>");
        }
        self.markup("</tr></thead><tbody>\n")
    }

    /// The file of a photo.
    pub(super) fn photo(&mut self, digest: Digest) -> &mut Self {
        self.done.push(Piece::Text(std::mem::take(&mut self.text)));
        self.done.push(Piece::Photo(digest));
        self
    }

    /// A drawing. Its title is said beside it or stands in it.
    pub(super) fn sketch(&mut self, class: &'static str, sketch: &Sketch) -> &mut Self {
        self.markup("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" class=\"").markup(class);
        self.markup("\" viewBox=\"0 0 ").text(&sketch.width.to_string()).markup(" ");
        self.text(&sketch.height.to_string()).put("\" aria-label=\"", &sketch.title, "\">");
        for element in sketch.elements() {
            match element {
                Element::Path { d, class } => {
                    self.put("<path d=\"", &d, "\" class=\"").text(&class).markup("\"/>");
                }
                Element::Text { at: (x, y), anchor, class, text } => {
                    self.put("<text x=\"", &format!("{x:.1}"), "\" y=\"").text(&format!("{y:.1}"));
                    self.put("\" text-anchor=\"", anchor, "\" class=\"")
                        .put("", &class, "\">")
                        .put("", &text, "</text>");
                }
            }
        }
        self.markup("</svg>")
    }

    /// A signature as it was drawn, in a box 300 wide and 100 high; what is no stroke is left away.
    pub(super) fn drawn(&mut self, strokes: &str) -> &mut Self {
        self.markup("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" class=\"drawn\" viewBox=\"0 0 300 100\" ");
        self.put("aria-label=\"", words!("Signature, drawn by hand"), "\">");
        if let Some(path) = drawn_path(strokes) {
            self.put("<path d=\"", &path, "\"/>");
        }
        self.markup("</svg>")
    }

    /// What was written.
    pub(super) fn done(mut self) -> Vec<Piece> {
        self.done.push(Piece::Text(self.text));
        self.done
    }
}
