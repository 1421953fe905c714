//! How the parts of a job file are read and written: objects, lists, texts and maps of fixed size.
//!
//! What serde derives is kept where it fits and narrowed where a job file is stricter: an object is never read from a
//! list, a list and a text say how much they hold, and a map refuses a key that stands twice. Errors are serde's own, so
//! that [`crate::fault::Fault::of_structure`] can make one sentence of any of them.

use core::fmt;
use core::marker::PhantomData;
use heapless::{String, Vec};
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde::ser::{SerializeMap, Serializer};
use serde::{Deserialize, Serialize, forward_to_deserialize_any};

/// Lets a derived type be read from an object only.
///
/// What serde derives for a struct also takes a list, field by field: `[150, 450]` would pass as a zone, and a forgotten
/// field would move all that follow.
pub(super) struct AsObject<D>(pub D);

impl<'de, D: Deserializer<'de>> Deserializer<'de> for AsObject<D> {
    type Error = D::Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Self::Error> {
        self.0.deserialize_any(visitor)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Self::Error> {
        self.0.deserialize_struct(name, fields, ObjectVisitor(visitor))
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}

/// Hands on an object and nothing else.
struct ObjectVisitor<V>(V);

impl<'de, V: Visitor<'de>> Visitor<'de> for ObjectVisitor<V> {
    type Value = V::Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Self::Value, A::Error> {
        self.0.visit_map(map)
    }
}

/// Implements both directions of serde for types that derive them with `#[serde(remote = "Self")]`, objects only.
macro_rules! objects {
    ($($name:ident),* $(,)?) => {$(
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                $name::serialize(self, serializer)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                $name::deserialize($crate::job::shape::AsObject(deserializer))
            }
        }
    )*};
}
pub(super) use objects;

/// Implements [`Key`] and both directions of serde for an enum whose values are words.
///
/// What serde derives for such an enum also takes `{"word": null}`.
macro_rules! words {
    ($($name:ident { $($value:ident = $word:literal),* $(,)? })*) => {$(
        impl $crate::job::shape::Key for $name {
            const ACCEPTED: &'static str = $crate::job::shape::listed!($($word),*);

            fn of(word: &str) -> Option<Self> {
                match word {
                    $($word => Some(Self::$value),)*
                    _ => None,
                }
            }

            fn name(&self) -> &str {
                match self {
                    $(Self::$value => $word,)*
                }
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str($crate::job::shape::Key::name(self))
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                $crate::job::shape::word(deserializer)
            }
        }
    )*};
}
pub(super) use words;

/// Words with commas between them.
macro_rules! listed {
    ($first:literal $(, $more:literal)*) => {
        concat!($first $(, ", ", $more)*)
    };
}
pub(super) use listed;

/// One of some words.
pub(super) fn word<'de, D: Deserializer<'de>, K: Key>(deserializer: D) -> Result<K, D::Error> {
    deserializer.deserialize_str(WordVisitor(PhantomData))
}

struct WordVisitor<K>(PhantomData<K>);

impl<K: Key> Visitor<'_> for WordVisitor<K> {
    type Value = K;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(K::ACCEPTED)
    }

    fn visit_str<E: Error>(self, word: &str) -> Result<K, E> {
        K::of(word).ok_or_else(|| E::custom(format_args!("unknown variant `{word}`, expected {}", K::ACCEPTED)))
    }
}

/// A text of at most `N` bytes.
pub(super) fn text<'de, D: Deserializer<'de>, const N: usize>(deserializer: D) -> Result<String<N>, D::Error> {
    deserializer.deserialize_str(TextVisitor)
}

/// A text of at most `N` bytes, or nothing.
pub(super) fn optional_text<'de, D: Deserializer<'de>, const N: usize>(
    deserializer: D,
) -> Result<Option<String<N>>, D::Error> {
    Option::<Text<N>>::deserialize(deserializer).map(|text| text.map(|text| text.0))
}

/// A list of at most `N` entries.
pub(super) fn list<'de, D, T, const N: usize>(deserializer: D) -> Result<Vec<T, N>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    deserializer.deserialize_seq(ListVisitor(PhantomData))
}

/// A list of at most `N` entries, or nothing.
pub(super) fn optional_list<'de, D, T, const N: usize>(deserializer: D) -> Result<Option<Vec<T, N>>, D::Error>
where
    D: Deserializer<'de>,
    T: Deserialize<'de>,
{
    Option::<List<T, N>>::deserialize(deserializer).map(|list| list.map(|list| list.0))
}

struct Text<const N: usize>(String<N>);

impl<'de, const N: usize> Deserialize<'de> for Text<N> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        text(deserializer).map(Self)
    }
}

struct List<T, const N: usize>(Vec<T, N>);

impl<'de, T: Deserialize<'de>, const N: usize> Deserialize<'de> for List<T, N> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        list(deserializer).map(Self)
    }
}

struct TextVisitor<const N: usize>;

impl<const N: usize> Visitor<'_> for TextVisitor<N> {
    type Value = String<N>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "text of at most {N} bytes")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Self::Value, E> {
        String::try_from(text).map_err(|_| E::invalid_length(text.len(), &self))
    }
}

struct ListVisitor<T, const N: usize>(PhantomData<T>);

impl<'de, T: Deserialize<'de>, const N: usize> Visitor<'de> for ListVisitor<T, N> {
    type Value = Vec<T, N>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a list of at most {N} entries")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut entries: A) -> Result<Self::Value, A::Error> {
        let mut list = Vec::new();
        // Ends: each turn fills a place, and there are N of them.
        while let Some(entry) = entries.next_element()? {
            if list.push(entry).is_err() {
                return Err(A::Error::invalid_length(N + 1, &self));
            }
        }
        Ok(list)
    }
}

/// What has a name in a job file: a value that is a word, or a key of a [`Named`] map.
pub trait Key: Sized + PartialEq {
    /// What the name may be, in words.
    const ACCEPTED: &'static str;
    /// What has this name, if anything.
    fn of(name: &str) -> Option<Self>;
    /// Its name.
    fn name(&self) -> &str;
}

impl<const N: usize> Key for String<N> {
    const ACCEPTED: &'static str = "a name, or a path inside the job";

    fn of(name: &str) -> Option<Self> {
        Self::try_from(name).ok()
    }

    fn name(&self) -> &str {
        self
    }
}

/// A map of at most `N` entries in the order in which they were written; no key stands twice.
#[derive(Clone, Debug, PartialEq)]
pub struct Named<K, V, const N: usize> {
    entries: Vec<(K, V), N>,
}

impl<K, V, const N: usize> Default for Named<K, V, N> {
    fn default() -> Self {
        Self { entries: Vec::new() }
    }
}

impl<K: Key, V, const N: usize> Named<K, V, N> {
    /// An empty map.
    #[must_use]
    pub const fn new() -> Self {
        Self { entries: Vec::new() }
    }

    /// Whether nothing is in it.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// What stands under a key.
    pub fn get(&self, key: &K) -> Option<&V> {
        self.entries.iter().find(|entry| entry.0 == *key).map(|entry| &entry.1)
    }

    /// What stands under a name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&V> {
        self.entries.iter().find(|entry| entry.0.name() == name).map(|entry| &entry.1)
    }

    /// Puts a value under a key, in place of what stood there.
    ///
    /// # Errors
    /// The value, if the key is new and the map full.
    pub fn insert(&mut self, key: K, value: V) -> Result<(), V> {
        if let Some(entry) = self.entries.iter_mut().find(|entry| entry.0 == key) {
            entry.1 = value;
            return Ok(());
        }
        self.entries.push((key, value)).map_err(|(_, value)| value)
    }

    /// All entries, in the order in which they were written.
    pub fn iter(&self) -> impl Iterator<Item = (&K, &V)> {
        self.entries.iter().map(|entry| (&entry.0, &entry.1))
    }
}

impl<K: Key, V: Serialize, const N: usize> Serialize for Named<K, V, N> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.entries.len()))?;
        for (key, value) in &self.entries {
            map.serialize_entry(key.name(), value)?;
        }
        map.end()
    }
}

impl<'de, K: Key, V: Deserialize<'de>, const N: usize> Deserialize<'de> for Named<K, V, N> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(NamedVisitor(PhantomData))
    }
}

pub(super) struct NamedVisitor<K, V, const N: usize>(pub PhantomData<(K, V)>);

impl<'de, K: Key, V: Deserialize<'de>, const N: usize> Visitor<'de> for NamedVisitor<K, V, N> {
    type Value = Named<K, V, N>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "an object of at most {N} entries")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut named = Named::new();
        // Ends: each turn fills a place, and there are N of them.
        while let Some(key) = map.next_key_seed(KeySeed::<K, V, N>(&named))? {
            let value = map.next_value()?;
            if named.insert(key, value).is_err() {
                return Err(A::Error::invalid_length(N + 1, &self));
            }
        }
        Ok(named)
    }
}

/// Reads a key that is not yet in the map.
struct KeySeed<'m, K, V, const N: usize>(&'m Named<K, V, N>);

impl<'de, K: Key, V, const N: usize> DeserializeSeed<'de> for KeySeed<'_, K, V, N> {
    type Value = K;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<K, D::Error> {
        deserializer.deserialize_str(self)
    }
}

impl<K: Key, V, const N: usize> Visitor<'_> for KeySeed<'_, K, V, N> {
    type Value = K;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(K::ACCEPTED)
    }

    fn visit_str<E: Error>(self, name: &str) -> Result<K, E> {
        let key =
            K::of(name).ok_or_else(|| E::custom(format_args!("unknown field `{name}`, expected {}", K::ACCEPTED)))?;
        if self.0.named(name).is_some() {
            return Err(E::custom(format_args!("duplicate field `{name}`")));
        }
        Ok(key)
    }
}
