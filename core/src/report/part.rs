//! Holders for the large or named parts of a report, all of fixed size and filled in place.

use heapless::{LinearMap, String};
use serde::ser::{Serialize, Serializer};

/// Figures by the name of a precursor; a JSON object, in the order in which they were put in.
pub type Named<T, const N: usize> = LinearMap<String<8>, T, N>;

/// What can be emptied where it stands.
pub trait Clear {
    /// Takes every figure out.
    fn clear(&mut self);
}

/// Up to `N` parts, one after the other, each filled where it stands; a JSON array.
#[derive(Clone, Debug)]
pub struct Slots<T, const N: usize> {
    all: [T; N],
    count: usize,
}

impl<T, const N: usize> Slots<T, N> {
    /// No part yet; `all` is the room for them.
    #[must_use]
    pub const fn new(all: [T; N]) -> Self {
        Self { all, count: 0 }
    }

    /// The parts that are filled.
    #[must_use]
    pub fn as_slice(&self) -> &[T] {
        self.all.get(..self.count).unwrap_or(&[])
    }

    /// The parts that are filled, to be changed.
    #[must_use]
    pub fn as_mut_slice(&mut self) -> &mut [T] {
        self.all.get_mut(..self.count).unwrap_or(&mut [])
    }

    /// Part `index`, if it is filled.
    #[must_use]
    pub fn get(&self, index: usize) -> Option<&T> {
        self.as_slice().get(index)
    }

    /// Part `index`, to be changed.
    #[must_use]
    pub fn get_mut(&mut self, index: usize) -> Option<&mut T> {
        self.as_mut_slice().get_mut(index)
    }

    /// The parts in their order.
    pub fn iter(&self) -> core::slice::Iter<'_, T> {
        self.as_slice().iter()
    }

    /// How many there are.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.count
    }

    /// Whether there is none.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.count == 0
    }

    /// Takes all parts out; what is behind them is emptied as it is filled again.
    pub const fn clear(&mut self) {
        self.count = 0;
    }
}

impl<T: Clear, const N: usize> Slots<T, N> {
    /// The next part, emptied, to be filled; `None` when all `N` are taken.
    pub fn add(&mut self) -> Option<&mut T> {
        let slot = self.all.get_mut(self.count)?;
        slot.clear();
        self.count += 1;
        Some(slot)
    }
}

impl<'a, T, const N: usize> IntoIterator for &'a Slots<T, N> {
    type Item = &'a T;
    type IntoIter = core::slice::Iter<'a, T>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl<T: Serialize, const N: usize> Serialize for Slots<T, N> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.as_slice().serialize(serializer)
    }
}

/// A large part that is there, or is `null`.
#[derive(Clone, Debug)]
pub struct Given<T> {
    value: T,
    given: bool,
}

impl<T> Given<T> {
    /// Not there yet; `value` is the room for it.
    #[must_use]
    pub const fn new(value: T) -> Self {
        Self { value, given: false }
    }

    /// The part, if it is there.
    #[must_use]
    pub const fn get(&self) -> Option<&T> {
        if self.given { Some(&self.value) } else { None }
    }

    /// The part to be changed, if it is there.
    #[must_use]
    pub const fn get_mut(&mut self) -> Option<&mut T> {
        if self.given { Some(&mut self.value) } else { None }
    }

    /// Takes it out.
    pub const fn clear(&mut self) {
        self.given = false;
    }
}

impl<T: Clear> Given<T> {
    /// The part, emptied, to be filled.
    pub fn give(&mut self) -> &mut T {
        self.value.clear();
        self.given = true;
        &mut self.value
    }
}

impl<T: Serialize> Serialize for Given<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.get().serialize(serializer)
    }
}
