//! A picture in shades of grey, as tracing sees it.

/// A picture of `width` by `height` pixels, row by row from the top, 0 black to 255 white. Colour is taken as
/// its luma and what is transparent as white paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Greyscale {
    width: usize,
    height: usize,
    luma: Vec<u8>,
}

impl Greyscale {
    /// A picture from its rows; `None` where the number of pixels does not fit the size, or there are none.
    pub fn new(width: usize, height: usize, luma: Vec<u8>) -> Option<Self> {
        (width > 0 && width.checked_mul(height) == Some(luma.len()) && height > 0).then_some(Self {
            width,
            height,
            luma,
        })
    }

    /// Pixels in a row.
    pub const fn width(&self) -> usize {
        self.width
    }

    /// Rows.
    pub const fn height(&self) -> usize {
        self.height
    }

    /// All pixels, row by row from the top.
    pub fn luma(&self) -> &[u8] {
        &self.luma
    }

    /// One row from the left; empty below the last.
    pub fn row(&self, y: usize) -> &[u8] {
        self.luma.chunks_exact(self.width).nth(y).unwrap_or(&[])
    }

    /// One pixel; white beyond the edges.
    pub fn at(&self, x: usize, y: usize) -> u8 {
        if x < self.width && y < self.height { self.luma[y * self.width + x] } else { u8::MAX }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_picture_has_as_many_pixels_as_its_size_says() {
        let picture = Greyscale::new(2, 2, vec![0, 10, 20, 30]).unwrap();
        assert_eq!(picture.row(1), [20, 30]);
        assert_eq!((picture.at(1, 0), picture.at(2, 0), picture.at(0, 2)), (10, 255, 255));
        assert!(picture.row(2).is_empty());
        assert_eq!(Greyscale::new(2, 2, vec![0; 3]), None);
        assert_eq!(Greyscale::new(0, 0, Vec::new()), None);
    }
}
