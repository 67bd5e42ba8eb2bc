//! Shades of grey from colours: luma by the weights of ITU-R BT.709, what is transparent taken as white paper.

use image::DynamicImage;
use pattress_model::survey::Greyscale;

/// Luma of a colour. The weights 0.2126, 0.7152 and 0.0722 in 256ths, so that white stays white.
pub fn luma(red: u8, green: u8, blue: u8) -> u8 {
    ((54 * u32::from(red) + 183 * u32::from(green) + 19 * u32::from(blue)) >> 8) as u8
}

/// A tone laid on white paper with that opacity.
pub fn on_paper(tone: u8, opacity: u8) -> u8 {
    let (tone, opacity) = (u32::from(tone), u32::from(opacity));
    ((tone * opacity + 255 * (255 - opacity) + 127) / 255) as u8
}

/// The pixels of a picture in grey, row by row. The picture is used up, so that both need not be held for long.
pub fn luma_of(picture: DynamicImage) -> Vec<u8> {
    match picture {
        DynamicImage::ImageLuma8(grey) => grey.into_raw(),
        DynamicImage::ImageLumaA8(grey) => {
            grey.as_raw().chunks_exact(2).map(|pixel| on_paper(pixel[0], pixel[1])).collect()
        }
        DynamicImage::ImageRgb8(colours) => {
            colours.as_raw().chunks_exact(3).map(|pixel| luma(pixel[0], pixel[1], pixel[2])).collect()
        }
        DynamicImage::ImageRgba8(colours) => colours
            .as_raw()
            .chunks_exact(4)
            .map(|pixel| on_paper(luma(pixel[0], pixel[1], pixel[2]), pixel[3]))
            .collect(),
        DynamicImage::ImageLuma16(grey) => grey.as_raw().iter().map(|tone| (tone >> 8) as u8).collect(),
        other if other.color().has_alpha() => luma_of(DynamicImage::ImageRgba8(other.into_rgba8())),
        other => luma_of(DynamicImage::ImageRgb8(other.into_rgb8())),
    }
}

/// A picture in grey with its size. `None` where it has no pixels.
pub fn of_picture(picture: DynamicImage) -> Option<Greyscale> {
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    Greyscale::new(width, height, luma_of(picture))
}

/// The colours of a picture on white paper, three bytes each.
pub fn on_white(picture: &DynamicImage) -> Vec<u8> {
    if !picture.color().has_alpha() {
        return picture.to_rgb8().into_raw();
    }
    let colours = picture.to_rgba8();
    let seen = |pixel: &[u8]| [0, 1, 2].map(|part| on_paper(pixel[part], pixel[3]));
    colours.as_raw().chunks_exact(4).flat_map(seen).collect()
}

/// A picture whose every pixel is the mean of so many by so many; what is left over at the right and below is
/// the mean of fewer.
pub fn smaller(grey: Option<Greyscale>, times: u32) -> Option<Greyscale> {
    let grey = grey?;
    if times <= 1 {
        return Some(grey);
    }
    let mut sums = Sums::new(grey.width(), grey.height(), times as usize);
    for y in 0..grey.height() {
        sums.add_row(grey.row(y));
    }
    sums.finish()
}

/// Adds up rows of a picture into the rows of a smaller one.
pub struct Sums {
    width: usize,
    height: usize,
    times: usize,
    rows_in: usize,
    sums: Vec<u32>,
    done: Vec<u8>,
}

impl Sums {
    /// For a picture of that size.
    pub fn new(width: usize, height: usize, times: usize) -> Self {
        let across = width.div_ceil(times);
        let done = Vec::with_capacity(across * height.div_ceil(times));
        Self { width, height, times, rows_in: 0, sums: vec![0; across], done }
    }

    /// Adds a row of tones.
    pub fn add_row(&mut self, row: &[u8]) {
        for (sum, tones) in self.sums.iter_mut().zip(row.chunks(self.times)) {
            *sum += tones.iter().map(|tone| u32::from(*tone)).sum::<u32>();
        }
        self.end_row();
    }

    fn end_row(&mut self) {
        self.rows_in += 1;
        let rows = match self.rows_in % self.times {
            0 => self.times,
            rest if self.rows_in == self.height => rest,
            _ => return,
        };
        for (x, sum) in self.sums.iter_mut().enumerate() {
            let across = self.times.min(self.width - x * self.times);
            self.done.push((*sum / (across * rows) as u32) as u8);
            *sum = 0;
        }
    }

    /// The smaller picture. `None` where rows are missing.
    pub fn finish(self) -> Option<Greyscale> {
        Greyscale::new(self.width.div_ceil(self.times), self.height.div_ceil(self.times), self.done)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paper_is_white_and_ink_is_dark() {
        assert_eq!((luma(255, 255, 255), luma(0, 0, 0), luma(0, 255, 0)), (255, 0, 182));
        assert_eq!(
            (on_paper(0, 0), on_paper(0, 255), on_paper(0, 128), on_paper(200, 255)),
            (255, 0, 127, 200)
        );
    }

    #[test]
    fn a_smaller_picture_holds_means() {
        let tones: Vec<u8> = vec![0, 255, 255, 0, 255, 255, 10, 20, 30];
        let found = smaller(Greyscale::new(3, 3, tones), 2).unwrap();
        assert_eq!((found.width(), found.height()), (2, 2));
        assert_eq!(found.luma(), [127, 255, 15, 30]);
    }
}
