//! What a call gives back, as plain objects.

use loftwire_core::fault::Faults;
use serde::Serialize;
use serde_wasm_bindgen::Serializer;
use wasm_bindgen::{JsValue, UnwrapThrowExt};

/// What was asked for, or why not.
#[derive(Serialize)]
#[serde(untagged)]
pub enum Answer<T> {
    /// What was asked for.
    Ok {
        /// It.
        ok: T,
    },
    /// What is wrong with the job.
    Refused {
        /// The faults that are listed.
        faults: Box<Faults>,
        /// How many more there are.
        more: usize,
    },
}

impl<T> From<Result<T, Box<Faults>>> for Answer<T> {
    fn from(result: Result<T, Box<Faults>>) -> Self {
        match result {
            Ok(ok) => Self::Ok { ok },
            Err(faults) => Self::Refused { more: faults.more(), faults },
        }
    }
}

impl<T: Serialize> From<Answer<T>> for JsValue {
    fn from(answer: Answer<T>) -> Self {
        plain(&answer)
    }
}

/// A value as its JSON would be read: objects, lists, numbers, texts and `null`.
pub fn plain<T: Serialize + ?Sized>(value: &T) -> JsValue {
    let serializer = Serializer::new().serialize_maps_as_objects(true).serialize_missing_as_null(true);
    // Nothing of ours refuses to be written; did it, it would be a panic like any other.
    value.serialize(&serializer).unwrap_throw()
}
