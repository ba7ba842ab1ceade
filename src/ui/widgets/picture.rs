//! Pictures that a person brought, as the toolkit draws them; what is printed asks which of them stands behind a texture.

use eframe::egui::{
    ColorImage, Context, Id, Image, Rect, TextureHandle, TextureId, TextureOptions, Ui, load::SizedTexture, vec2,
};

use crate::model::facts::company::Picture;

/// The pictures drawn so far with their textures.
type Known = Vec<(Picture, TextureHandle)>;

fn place() -> Id {
    Id::unique("pictures with their textures")
}

/// Draws a picture, as large as its place lets it and no broader than it is.
pub fn draw(ui: &Ui, picture: &Picture, at: Rect) {
    let texture = texture(ui.ctx(), picture);
    let size = vec2(picture.width as f32, picture.height as f32);
    Image::from_texture(SizedTexture::new(texture, size)).paint_at(ui, at);
}

/// The size in which a picture fits a room, whole and not stretched.
pub fn size_in(picture: &Picture, room: eframe::egui::Vec2) -> eframe::egui::Vec2 {
    let size = vec2(picture.width as f32, picture.height as f32);
    size * (room.x / size.x).min(room.y / size.y)
}

/// Every picture that was drawn, by its texture.
pub fn known(ctx: &Context) -> Vec<(TextureId, Picture)> {
    let known: Known = ctx.data(|data| data.get_temp(place())).unwrap_or_default();
    known.into_iter().map(|(picture, texture)| (texture.id(), picture)).collect()
}

fn texture(ctx: &Context, picture: &Picture) -> TextureId {
    let mut known: Known = ctx.data(|data| data.get_temp(place())).unwrap_or_default();
    if let Some((_, texture)) = known.iter().find(|(other, _)| other == picture) {
        return texture.id();
    }
    let size = [picture.width as usize, picture.height as usize];
    let pixels = ColorImage::from_rgba_unmultiplied(size, &picture.rgba);
    let texture = ctx.load_texture("picture", pixels, TextureOptions::LINEAR);
    let id = texture.id();
    known.push((picture.clone(), texture));
    ctx.data_mut(|data| data.insert_temp(place(), known));
    id
}
