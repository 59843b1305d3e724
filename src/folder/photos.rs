//! Photos in the folder: each under its digest, put once. Whatever has another digest than its name says is not taken in.

use super::listing::photo_of;
use super::memory::Memory;
use super::step::{Local, Outcome, get, list, make_folder, put};
use super::trouble::Trouble;
use super::wire::Wire;
use crate::language::tr;
use crate::record::{Digest, MAX_PHOTO};

const FOLDER: &str = "photos";

pub(super) async fn bring_into_step(
    wire: &impl Wire,
    local: &impl Local,
    memory: &mut Memory,
    outcome: &mut Outcome,
) -> Result<(), Trouble> {
    let named = local.photos().await.map_err(Trouble::Phone)?;
    if named.iter().all(|(photo, here)| *here && memory.photos.contains(&photo.digest)) {
        return Ok(());
    }
    let listed: Vec<(Digest, Option<u64>)> = match list(wire, FOLDER).await? {
        Some(listed) => listed.into_iter().filter_map(|member| Some((photo_of(&member.name)?, member.bytes))).collect(),
        None => {
            make_folder(wire, FOLDER).await?;
            Vec::new()
        }
    };
    for (photo, here) in named {
        let path = format!("{FOLDER}/{}.jpg", photo.digest);
        // A file of another size was cut short on its way there.
        let whole = |bytes: &Option<u64>| bytes.is_none_or(|bytes| bytes == u64::from(photo.bytes));
        match (here, listed.iter().find(|(digest, _)| *digest == photo.digest)) {
            (true, Some((digest, bytes))) if whole(bytes) => {
                if !memory.photos.contains(digest) {
                    memory.photos.push(*digest);
                }
            }
            (true, there) => {
                let Some(jpeg) = local.photo(photo.digest).await.map_err(Trouble::Phone)? else { continue };
                let condition = there.is_none().then(|| ("If-None-Match", "*".to_owned()));
                match put(wire, &path, "image/jpeg", condition, &jpeg).await?.status {
                    // The next listing says whether it got there whole.
                    200 | 201 | 204 => outcome.photos_out += 1,
                    412 => {}
                    status => return Err(Trouble::of(status)),
                }
            }
            (false, Some(_)) => {
                let Some(jpeg) = get(wire, &path, MAX_PHOTO).await? else { continue };
                match photo.check(&jpeg) {
                    Ok(()) => {
                        local.keep_photo(photo.digest, jpeg).await.map_err(Trouble::Phone)?;
                        outcome.photos_in += 1;
                    }
                    Err(why) => {
                        outcome.refused.push(tr!("A photo in the folder was not taken in. {reason}", reason = why));
                    }
                }
            }
            (false, None) => {}
        }
    }
    Ok(())
}
