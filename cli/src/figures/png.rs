//! A drawing as pixels, for media that hold no SVG. The letters come with the program, so that every machine draws the same.

use super::shape::Drawing;
use super::{svg, unwritten};
use resvg::{tiny_skia, usvg};
use std::sync::{Arc, OnceLock};

const FACES: [&[u8]; 2] = [
    include_bytes!("../../assets/LiberationSans-Regular.ttf"),
    include_bytes!("../../assets/LiberationSans-Bold.ttf"),
];

/// A drawing as pixels.
pub(crate) struct Picture {
    /// The bytes of a PNG file.
    pub(crate) png: Vec<u8>,
    /// What its letters could not write, in the order of the numbers that stand for it: the first as `[1]`.
    pub(crate) unwritten: Vec<String>,
}

/// The drawing as PNG at so many dots per inch; the error says what the drawing lacked.
pub(crate) fn png(drawing: &Drawing, dots_per_inch: f64) -> Result<Picture, String> {
    let (drawing, unwritten) = unwritten::numbered(drawing, FACES[0]);
    let scale = (dots_per_inch / 96.0) as f32;
    let options = usvg::Options {
        font_family: "Liberation Sans".to_owned(),
        fontdb: faces(),
        ..usvg::Options::default()
    };
    let tree = usvg::Tree::from_str(&svg::file(&drawing, "drawing"), &options).map_err(|e| e.to_string())?;
    let [width, height] =
        [tree.size().width(), tree.size().height()].map(|side| (side * scale).ceil() as u32);
    let mut pixels =
        tiny_skia::Pixmap::new(width, height).ok_or_else(|| "a drawing without size".to_owned())?;
    pixels.fill(tiny_skia::Color::WHITE);
    resvg::render(&tree, tiny_skia::Transform::from_scale(scale, scale), &mut pixels.as_mut());
    encoded(&pixels).map(|png| Picture { png, unwritten }).map_err(|e| e.to_string())
}

/// The pixels, all of them opaque, as a file. The fast compression, because a report has dozens of drawings.
fn encoded(pixels: &tiny_skia::Pixmap) -> Result<Vec<u8>, png::EncodingError> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, pixels.width(), pixels.height());
    encoder.set_color(png::ColorType::Rgba);
    encoder.set_compression(png::Compression::Fast);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(pixels.data())?;
    writer.finish()?;
    Ok(bytes)
}

fn faces() -> Arc<usvg::fontdb::Database> {
    static LOADED: OnceLock<Arc<usvg::fontdb::Database>> = OnceLock::new();
    let load = || {
        let mut faces = usvg::fontdb::Database::new();
        FACES.iter().for_each(|face| faces.load_font_data(face.to_vec()));
        faces.set_sans_serif_family("Liberation Sans");
        Arc::new(faces)
    };
    LOADED.get_or_init(load).clone()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::shape::{Anchor, Fill, Ink, Shape};

    fn ink_in(png: &[u8]) -> usize {
        let pixels = tiny_skia::Pixmap::decode_png(png).unwrap();
        pixels.pixels().iter().filter(|pixel| pixel.red() < 128).count()
    }

    #[test]
    fn a_square_of_a_quarter_inch_has_fifty_dots_a_side_at_200_to_the_inch() {
        let square = Shape::rectangle((24.0, 24.0), (24.0, 24.0), Fill::Ink(Ink::Data), None);
        let drawing = Drawing {
            title: String::new(),
            description: String::new(),
            width: 96.0,
            height: 96.0,
            shapes: vec![square],
        };
        assert_eq!(ink_in(&png(&drawing, 200.0).unwrap().png), 2500);
    }

    #[test]
    fn letters_are_drawn_without_any_font_of_the_machine() {
        let words = Shape::words((4.0, 20.0), "TWA ● ▲ ≥ ä 王 🙂", Anchor::Start, Ink::Data);
        let drawing = Drawing {
            title: String::new(),
            description: String::new(),
            width: 96.0,
            height: 32.0,
            shapes: vec![words],
        };
        let picture = png(&drawing, 200.0).unwrap();
        assert!(ink_in(&picture.png) > 300);
        assert_eq!(picture.unwritten, ["王 🙂"]);
    }
}
