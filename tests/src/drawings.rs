//! Small drawings made in code, for tests of what reads them: pages of PDF and SVG, pictures, a model.

use std::fmt::Write as _;
use std::io::Cursor;

use image::ImageFormat;

/// One page of a PDF.
#[derive(Clone, Debug)]
pub struct PdfPage {
    /// Entries of its dictionary beside its content: box, turn, unit.
    pub entries: String,
    /// What it draws, in operators of ISO 32000-1, annex A. `/F` is a face, `/G` half opaque, `/I` a picture.
    pub content: String,
}

impl PdfPage {
    /// A page of 420 by 297 mm.
    pub fn a3(content: &str) -> Self {
        Self { entries: "/MediaBox [0 0 1190.551 841.89]".to_owned(), content: content.to_owned() }
    }
}

/// A PDF with these pages and a sound table of its objects.
pub fn pdf(pages: &[PdfPage]) -> Vec<u8> {
    let kids: String = (0..pages.len()).map(|index| format!("{} 0 R ", 6 + 2 * index)).collect();
    let mut objects = vec![
        "<< /Type /Catalog /Pages 2 0 R >>".to_owned(),
        format!("<< /Type /Pages /Kids [{kids}] /Count {} >>", pages.len()),
        "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>".to_owned(),
        "<< /ca 0.5 /CA 0.5 >>".to_owned(),
        stream(
            "/Type /XObject /Subtype /Image /Width 4 /Height 4 /ColorSpace /DeviceGray /BitsPerComponent 8",
            "0123456789abcdef",
        ),
    ];
    for (index, page) in pages.iter().enumerate() {
        objects.push(format!(
            "<< /Type /Page /Parent 2 0 R {} /Contents {} 0 R /Resources << /Font << /F 3 0 R >> /ExtGState << /G 4 0 R \
             >> /XObject << /I 5 0 R >> >> >>",
            page.entries,
            7 + 2 * index
        ));
        objects.push(stream("", &page.content));
    }
    let mut text = "%PDF-1.7\n".to_owned();
    let mut table = format!("xref\n0 {}\n0000000000 65535 f \n", objects.len() + 1);
    for (index, object) in objects.iter().enumerate() {
        let _ = writeln!(table, "{:010} 00000 n ", text.len());
        let _ = write!(text, "{} 0 obj\n{object}\nendobj\n", index + 1);
    }
    let at = text.len();
    let _ = write!(
        text,
        "{table}trailer << /Root 1 0 R /Size {} >>\nstartxref\n{at}\n%%EOF\n",
        objects.len() + 1
    );
    text.into_bytes()
}

fn stream(entries: &str, content: &str) -> String {
    format!("<< {entries} /Length {} >>\nstream\n{content}\nendstream", content.len())
}

/// A room in four walls with a door, lettering and a clipped hatch, as a PDF of two pages.
pub fn room_as_pdf() -> Vec<u8> {
    let content = "0.2 g 100 100 400 20 re f 100 400 400 20 re f 100 120 20 280 re f 480 120 20 280 re f\n\
                   1 g 200 98 60 24 re f 0 G 0.5 w 200 120 m 200 180 l S 200 180 m 233 180 260 153 260 120 c S\n\
                   q 120 120 360 280 re W n 0.25 w [3 1] 0 d 0 0 m 600 600 l S Q /G gs 0.5 0.2 0.1 rg 300 200 50 50 re f\n\
                   BT /F 12 Tf 250 250 Td (Kitchen 12.5 m) Tj ET BT /F 9 Tf 0 1 -1 0 90 200 Tm (3 600) Tj ET";
    pdf(&[PdfPage::a3(content), PdfPage::a3("q 1190 0 0 841 0 0 cm /I Do Q")])
}

/// The same room as an SVG of 420 by 297 mm.
pub fn room_as_svg() -> Vec<u8> {
    r##"<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="420mm" height="297mm" viewBox="0 0 420 297">
<defs><clipPath id="c"><rect x="40" y="40" width="120" height="100"/></clipPath>
<pattern id="p" width="4" height="4" patternUnits="userSpaceOnUse"><path d="M0 0L4 4" stroke="#888"/></pattern>
<style>.wall{fill:#333}.thin{stroke:#000;stroke-width:.18;fill:none}</style></defs>
<g class="wall"><path d="M30 30h140v10h-140z"/><path d="M30 140h140v10h-140z"/><rect x="30" y="40" width="10" height="100"/><rect x="160" y="40" width="10" height="100"/></g>
<rect x="70" y="139" width="20" height="12" fill="#fff"/>
<path class="thin" d="M70 140V120A20 20 0 0 1 90 140"/>
<g clip-path="url(#c)" opacity="0.5"><path class="thin" stroke-dasharray="3 1" d="M0 0L300 300"/></g>
<rect x="100" y="60" width="20" height="20" fill="url(#p)"/>
<text x="90" y="90" font-size="4" font-family="Some Face">Kitchen</text>
<text transform="translate(25 100) rotate(-90)" font-size="3" text-anchor="middle">3 600</text>
<image x="200" y="20" width="40" height="40" xlink:href="data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="/>
<use xlink:href="#c"/>
</svg>
"##
    .as_bytes()
    .to_vec()
}

/// A dark frame on paper as a picture of each sort that can be read.
pub fn frame_as_pictures() -> Vec<Vec<u8>> {
    let colours = image::RgbImage::from_fn(60, 40, |x, y| {
        let is_ink = !(6..54).contains(&x) || !(6..34).contains(&y);
        image::Rgb(if is_ink { [30, 30, 30] } else { [250, 250, 240] })
    });
    let grey = image::DynamicImage::ImageRgb8(colours.clone()).to_luma16();
    let clear = image::DynamicImage::ImageRgb8(colours.clone()).to_rgba8();
    let write = |picture: image::DynamicImage, format: ImageFormat| {
        let mut bytes = Vec::new();
        picture.write_to(&mut Cursor::new(&mut bytes), format).expect("a picture in memory can be written");
        bytes
    };
    vec![
        write(colours.clone().into(), ImageFormat::Png),
        write(clear.into(), ImageFormat::Png),
        write(grey.into(), ImageFormat::Png),
        write(colours.clone().into(), ImageFormat::Jpeg),
        write(colours.clone().into(), ImageFormat::Tiff),
        write(colours.into(), ImageFormat::WebP),
    ]
}

/// A room in two walls with a door and a hole, as a model of a building.
pub fn room_as_ifc() -> Vec<u8> {
    include_bytes!("room.ifc").to_vec()
}
