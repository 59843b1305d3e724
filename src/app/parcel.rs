//! A file made on this phone: photos are read one after another, the screen is drawn between them, and what is done is handed to the
//! browser, so that the whole never stands in memory.

use leptos::prelude::*;

use super::browser::clock;
use super::browser::db::Db;
use super::browser::share::Parts;
use super::shop::Shop;
use crate::record::{Airframe, Digest};
use crate::report::{
    Checked, Parcel, Piece, Pieces, Sent, Sum, Zip, bundle_texts, bundled_photo, photos_of, pieces_of,
};

/// A file that is ready to be sent.
#[derive(Clone)]
pub(crate) struct Made {
    pub(crate) name: String,
    pub(crate) mime: &'static str,
    pub(crate) file: Parts,
    /// Photos that are in it, and photos of the record that are not.
    pub(crate) photos: usize,
    pub(crate) left: usize,
    /// What is elsewhere too once it was sent.
    pub(crate) sent: Vec<Sent>,
}

/// Why a file was not made: nobody wants it any more, or a photo that is here cannot be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unmade {
    Unwanted,
    Unreadable,
}

/// What a file is being made with.
struct Work<'w> {
    db: Option<Db>,
    parcel: Parcel,
    /// How many parts are done, and of how many.
    done: usize,
    of: usize,
    /// Told of the progress; says whether to go on.
    go_on: &'w dyn Fn(usize, usize) -> bool,
}

impl Work<'_> {
    /// One part more is done.
    async fn step(&mut self) -> Result<(), Unmade> {
        self.done += 1;
        let wanted = (self.go_on)(self.done, self.of);
        clock::pause().await;
        if wanted { Ok(()) } else { Err(Unmade::Unwanted) }
    }

    async fn photo(&mut self, digest: Digest) -> Result<Vec<u8>, Unmade> {
        let Some(db) = &self.db else { return Err(Unmade::Unreadable) };
        let jpeg = db.photo(digest).await.ok().flatten().ok_or(Unmade::Unreadable)?;
        self.step().await?;
        Ok(jpeg)
    }

    /// Pieces of a text with photos in it, their sum counted.
    async fn text(&mut self, pieces: Vec<Piece>, sum: &mut Sum) -> Result<Parts, Unmade> {
        let mut parts = Parts::default();
        for piece in pieces {
            let text = match piece {
                Piece::Text(text) => text,
                Piece::Photo(digest) => self.parcel.encoded(&self.photo(digest).await?),
            };
            sum.take(text.as_bytes());
            parts.push(text.as_bytes());
        }
        Ok(parts)
    }

    /// A zip of the page, the tables and the photos.
    async fn bundle(
        &mut self,
        texts: Vec<(&str, String)>,
        page: Vec<Piece>,
        photos: &[Digest],
    ) -> Result<Parts, Unmade> {
        let mut zip = Zip::begin(clock::now().naive_local());
        let (mut file, mut sum) = (Parts::default(), Sum::default());
        let inside = self.text(page, &mut sum).await?;
        file.push(&zip.file("page.html", &sum));
        file.append(&inside);
        for (name, text) in texts {
            file.push(&zip.file(name, &Sum::of(text.as_bytes())));
            file.push(text.as_bytes());
        }
        for digest in photos {
            let jpeg = self.photo(*digest).await?;
            file.push(&zip.file(&bundled_photo(*digest), &Sum::of(&jpeg)));
            file.push(&jpeg);
        }
        file.push(&zip.end());
        Ok(file)
    }
}

/// Makes a file of an airframe, or of all of them. `go_on` is told how many parts are done and of how many, and says whether the file is
/// still wanted.
pub(crate) async fn make(
    shop: Shop,
    airframe: Option<Airframe>,
    parcel: Parcel,
    go_on: &dyn Fn(usize, usize) -> bool,
) -> Result<Made, Unmade> {
    let db = shop.db();
    let have = match &db {
        Some(db) => db.photo_keys().await.unwrap_or_default(),
        None => Vec::new(),
    };
    clock::pause().await;
    let day = clock::now().date_naive();
    // A clone shares the entries, and what is added meanwhile is not in the file.
    let ledger = shop.ledger.get_untracked();
    let checked = match (&airframe, parcel) {
        (Some(airframe), Parcel::Page | Parcel::Bundle) => Shop::check(&ledger, airframe.id).await,
        _ => Checked::new(),
    };
    let pieces = pieces_of(&ledger, airframe.as_ref(), parcel, &have, checked);
    let sent = parcel.sends(&ledger, airframe.as_ref(), day);
    let Pieces { pieces, photos, left } = pieces.ok_or(Unmade::Unwanted)?;
    let inside = pieces.iter().filter(|piece| matches!(piece, Piece::Photo(_))).count();
    let mut work = Work { db, parcel, done: 0, of: inside, go_on };
    let file = match (&airframe, parcel) {
        (Some(airframe), Parcel::Bundle) => {
            let named = photos_of(&ledger, &[airframe.id]).into_iter().map(|photo| photo.digest);
            let named: Vec<Digest> = named.filter(|digest| have.contains(digest)).collect();
            let texts = bundle_texts(&ledger, airframe);
            work.of += named.len();
            work.bundle(texts, pieces, &named).await?
        }
        _ => work.text(pieces, &mut Sum::default()).await?,
    };
    let name = parcel.name(day, airframe.as_ref());
    let sent = if left == 0 { sent } else { Vec::new() };
    Ok(Made { name, mime: parcel.mime(), file, photos, left, sent })
}
