//! Sizes of paper and of what stands on it, in tenths of a millimetre.
//!
//! Type never shrinks to make room: what does not fit goes to the next page.
//! `sheet.css` draws by the same figures.

use super::super::text::columns;

/// A tenth of a millimetre.
pub type Tenths = i64;

/// Left free at every edge of a page, for pins and for printers.
pub const MARGIN: Tenths = 100;

/// A size of paper.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Paper {
    /// 210 by 297 mm.
    A4,
    /// 297 by 420 mm.
    A3,
    /// 8.5 by 11 inches.
    Letter,
    /// 11 by 17 inches.
    Tabloid,
}

impl Paper {
    /// Every size.
    pub const ALL: [Self; 4] = [Self::A4, Self::A3, Self::Letter, Self::Tabloid];

    /// The word by which it is asked for.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::A3 => "a3",
            Self::Letter => "letter",
            Self::Tabloid => "tabloid",
        }
    }

    /// Width and height of a page, long side across.
    #[must_use]
    pub const fn across(self) -> (Tenths, Tenths) {
        match self {
            Self::A4 => (2970, 2100),
            Self::A3 => (4200, 2970),
            Self::Letter => (2794, 2159),
            Self::Tabloid => (4318, 2794),
        }
    }

    /// Whether names and times beside OUT-BY are set in the larger type.
    pub(super) const fn is_large(self) -> bool {
        matches!(self, Self::A3 | Self::Tabloid)
    }

    /// Width and height inside the margins.
    pub(super) const fn inside(self) -> (Tenths, Tenths) {
        let (width, height) = self.across();
        (width - 2 * MARGIN, height - 2 * MARGIN)
    }

    /// How cards lie on a page: its width and height, cards to a line, lines. A card is a quarter of A4 or Letter.
    pub(super) const fn cards(self) -> (Tenths, Tenths, Tenths, Tenths) {
        match self {
            Self::A4 => (2100, 2970, 2, 2),
            Self::Letter => (2159, 2794, 2, 2),
            Self::A3 => (4200, 2970, 4, 2),
            Self::Tabloid => (4318, 2794, 4, 2),
        }
    }

    /// Height of one card.
    pub(super) const fn card_height(self) -> Tenths {
        let (_, height, _, lines) = self.cards();
        height / lines
    }

    /// Width of one card.
    pub(super) const fn card_width(self) -> Tenths {
        let (width, _, to_a_line, _) = self.cards();
        width / to_a_line
    }
}

/// Lines that `text` takes on `width` in type of `size`, broken between words as a browser does; reckoned for a wide
/// face, so that it is hardly ever more.
pub fn lines(text: &str, width: Tenths, size: Tenths) -> Tenths {
    let long = |text: &str| Tenths::try_from(columns(text)).unwrap_or(Tenths::MAX / 1000) * size * 3 / 5;
    let (blank, width) = (long(" "), width.max(1));
    let (mut lines, mut used) = (1, 0);
    for word in text.split_whitespace() {
        let word = long(word);
        if used > 0 && used + blank + word <= width {
            used += blank + word;
            continue;
        }
        // A word longer than a line is broken where the line ends.
        lines += Tenths::from(used > 0) + (word - 1).max(0) / width;
        used = word - (word - 1).max(0) / width * width;
    }
    lines
}

/// Puts things of known height on pages, in order: on each as many as fit into `room`, at least one and at most `most`.
pub fn packed<T>(things: Vec<(Tenths, T)>, room: Tenths, most: usize, counts: impl Fn(&T) -> bool) -> Vec<Vec<T>> {
    let mut pages: Vec<Vec<T>> = Vec::new();
    let (mut used, mut counted) = (0, 0);
    for (height, thing) in things {
        let one = usize::from(counts(&thing));
        let fits = used + height <= room && counted + one <= most;
        match pages.last_mut() {
            Some(page) if fits => page.push(thing),
            _ => {
                pages.push(vec![thing]);
                (used, counted) = (0, 0);
            }
        }
        used += height;
        counted += one;
    }
    pages
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pages_take_what_fits_and_no_more_than_the_most() {
        let things = |n: i64| (0..n).map(|i| (30, i)).collect::<Vec<_>>();
        let sizes = |pages: Vec<Vec<i64>>| pages.iter().map(Vec::len).collect::<Vec<_>>();
        assert_eq!(sizes(packed(things(7), 100, 8, |_| true)), [3, 3, 1]);
        assert_eq!(sizes(packed(things(7), 1000, 4, |_| true)), [4, 3]);
        assert_eq!(sizes(packed(things(3), 10, 8, |_| true)), [1, 1, 1], "what is too high has a page of its own");
        assert_eq!(sizes(packed(things(5), 1000, 1, |i| i % 2 == 0)), [2, 2, 1], "only some count");
    }

    #[test]
    fn no_text_takes_no_less_than_a_line() {
        assert_eq!(lines("", 100, 46), 1);
        assert_eq!(lines(&"x".repeat(100), 1000, 46), 3);
        // 27 tenths to a letter: three words of ten fit into 1000, the fourth does not.
        assert_eq!(lines("tenletters tenletters tenletters", 1000, 46), 1);
        assert_eq!(lines("tenletters tenletters tenletters tenletters", 1000, 46), 2);
    }
}
