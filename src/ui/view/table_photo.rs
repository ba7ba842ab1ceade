//! A photograph of a printed table beside the grid: what is marked in it, and which row it last came to.

use crate::model::facts::company::Picture;
use crate::model::typed::table_draft::TableDraft;
use crate::model::typed::table_photo::TablePhoto;
use crate::ui::view::picture_look::PictureLook;

/// A photograph beside the grid.
#[derive(Clone, Debug)]
pub struct PhotoView {
    /// The picture and what is seen of it.
    pub(in crate::ui) look: PictureLook,
    /// What is marked in it.
    pub(in crate::ui) photo: TablePhoto,
    /// Row and column of the grid that it came to last, with how many rows were printed then; nothing while it is not straightened.
    pub(in crate::ui) at: Option<[usize; 3]>,
    /// The zoom at which the rows were seen whole.
    pub(in crate::ui) fitted: Option<f32>,
    /// The corner that is dragged.
    pub(in crate::ui) dragged: Option<usize>,
}

impl PhotoView {
    /// Opens a picture with nothing marked.
    pub fn open(file: String, picture: Picture, draft: &TableDraft) -> Self {
        Self {
            photo: TablePhoto::of(picture.width, picture.height, draft),
            look: PictureLook::of(file, picture),
            at: None,
            fitted: None,
            dragged: None,
        }
    }

    /// What is marked in it.
    pub const fn photo(&self) -> &TablePhoto {
        &self.photo
    }

    /// True once its rows lie flat.
    pub(in crate::ui) fn is_flat(&self) -> bool {
        matches!(self.photo.flat(), Ok(Some(_)))
    }

    /// Marks a corner here; the fourth straightens the rows.
    pub(in crate::ui) fn press(&mut self, place: [f64; 2]) {
        self.photo.press(place);
        self.look.cross = place;
    }

    /// Takes the last corner back, and shows all of the picture again.
    pub(in crate::ui) fn take_back(&mut self) {
        self.photo.corners.pop();
        self.show_all();
    }

    /// Forgets the corners, and shows all of the picture again.
    pub(in crate::ui) fn forget(&mut self) {
        self.photo.corners.clear();
        self.show_all();
    }

    fn show_all(&mut self) {
        (self.look.zoom, self.at) = (None, None);
    }
}
