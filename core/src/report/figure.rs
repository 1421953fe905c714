//! Any figure of a report by its path, as `wires.length_nm.mean` or `stages[0].flow.reynolds`.
//!
//! The path is that of the JSON: names joined by points, places in a list counted from 0 in brackets. The report is
//! walked as it would be written, so a path and the JSON can never differ. Nothing is allocated.

use super::Report;
use core::fmt::{self, Write};
use heapless::String;
use serde::ser::{self, Serialize, Serializer};

/// Longest path of a figure.
pub const PATH: usize = 160;

/// The figure at `path`; `None` where there is no number at it, `null` and words among that.
#[must_use]
pub fn figure(report: &Report, path: &str) -> Option<f64> {
    let mut found = None;
    let mut keep = |_: &str, value: f64| found = Some(value);
    let mut walk = Walk { path: String::new(), only: Some(path), visit: &mut keep };
    // The walk stops itself only where a path outgrows its room; then there is no such figure.
    let _ = report.serialize(&mut walk);
    found
}

/// Hands every figure of the report to `visit` with its path, in the order of the JSON.
pub fn figures(report: &Report, visit: &mut dyn FnMut(&str, f64)) {
    let mut walk = Walk { path: String::new(), only: None, visit };
    // As above: the longest path of the format has room.
    let _ = report.serialize(&mut walk);
}

/// A walk along the report, at `path` now.
struct Walk<'a> {
    path: String<PATH>,
    only: Option<&'a str>,
    visit: &'a mut dyn FnMut(&str, f64),
}

/// Why a walk ends early: a path longer than [`PATH`].
#[derive(Debug)]
struct TooLong;

impl fmt::Display for TooLong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the path is too long")
    }
}

impl core::error::Error for TooLong {}

impl ser::Error for TooLong {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

impl Walk<'_> {
    /// Walks one part, named or in a list, and comes back.
    fn part<T: Serialize + ?Sized>(&mut self, name: Name<'_>, value: &T) -> Result<(), TooLong> {
        let before = self.path.len();
        let written = match name {
            Name::Field(name) if before == 0 => self.path.push_str(name).is_ok(),
            Name::Field(name) => write!(self.path, ".{name}").is_ok(),
            Name::Place(place) => write!(self.path, "[{place}]").is_ok(),
        };
        let outcome = match (written, self.leads_on()) {
            (false, _) => Err(TooLong),
            (true, false) => Ok(()),
            (true, true) => value.serialize(&mut *self),
        };
        for _ in before..self.path.len() {
            if self.path.len() > before {
                self.path.pop();
            }
        }
        outcome
    }

    /// Whether what is looked for is here or further in.
    fn leads_on(&self) -> bool {
        self.only.is_none_or(|only| {
            only.strip_prefix(self.path.as_str()).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        })
    }

    fn leaf(&mut self, value: f64) {
        if self.only.is_none_or(|only| only == self.path.as_str()) {
            (self.visit)(&self.path, value);
        }
    }
}

/// How a part is called from its whole.
#[derive(Clone, Copy)]
enum Name<'a> {
    Field(&'a str),
    Place(usize),
}

/// Integers and floats are figures; all else is words.
macro_rules! leaves {
    ($($method:ident: $kind:ty),*; $($word:ident: $other:ty),*) => {
        $(fn $method(self, value: $kind) -> Result<(), TooLong> {
            // Counts of a report are far below 2^53.
            #[allow(clippy::cast_precision_loss, clippy::cast_lossless)]
            self.leaf(value as f64);
            Ok(())
        })*
        $(fn $word(self, _: $other) -> Result<(), TooLong> { Ok(()) })*
    };
}

impl<'w, 'a> Serializer for &'w mut Walk<'a> {
    type Ok = ();
    type Error = TooLong;
    type SerializeSeq = List<'w, 'a>;
    type SerializeTuple = List<'w, 'a>;
    type SerializeTupleStruct = List<'w, 'a>;
    type SerializeTupleVariant = List<'w, 'a>;
    type SerializeMap = Object<'w, 'a>;
    type SerializeStruct = Object<'w, 'a>;
    type SerializeStructVariant = Object<'w, 'a>;

    leaves! {
        serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_i64: i64,
        serialize_u8: u8, serialize_u16: u16, serialize_u32: u32, serialize_u64: u64,
        serialize_f32: f32, serialize_f64: f64;
        serialize_bool: bool, serialize_char: char, serialize_str: &str, serialize_bytes: &[u8],
        serialize_unit_struct: &'static str
    }

    fn serialize_none(self) -> Result<(), TooLong> {
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), TooLong> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), TooLong> {
        Ok(())
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, _: &'static str) -> Result<(), TooLong> {
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Result<(), TooLong> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<(), TooLong> {
        self.part(Name::Field(variant), value)
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<List<'w, 'a>, TooLong> {
        Ok(List { walk: self, place: 0 })
    }

    fn serialize_tuple(self, _: usize) -> Result<List<'w, 'a>, TooLong> {
        Ok(List { walk: self, place: 0 })
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<List<'w, 'a>, TooLong> {
        Ok(List { walk: self, place: 0 })
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<List<'w, 'a>, TooLong> {
        Ok(List { walk: self, place: 0 })
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Object<'w, 'a>, TooLong> {
        Ok(Object { walk: self, key: String::new() })
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Object<'w, 'a>, TooLong> {
        Ok(Object { walk: self, key: String::new() })
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Object<'w, 'a>, TooLong> {
        Ok(Object { walk: self, key: String::new() })
    }

    fn collect_str<T: fmt::Display + ?Sized>(self, _: &T) -> Result<(), TooLong> {
        Ok(())
    }
}

/// A list on the way.
struct List<'w, 'a> {
    walk: &'w mut Walk<'a>,
    place: usize,
}

impl List<'_, '_> {
    fn next<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), TooLong> {
        let place = self.place;
        self.place += 1;
        self.walk.part(Name::Place(place), value)
    }
}

/// The four kinds of list of serde are one here.
macro_rules! lists {
    ($($kind:ident: $method:ident),*) => {
        $(impl ser::$kind for List<'_, '_> {
            type Ok = ();
            type Error = TooLong;

            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), TooLong> {
                self.next(value)
            }

            fn end(self) -> Result<(), TooLong> {
                Ok(())
            }
        })*
    };
}

lists! {
    SerializeSeq: serialize_element, SerializeTuple: serialize_element,
    SerializeTupleStruct: serialize_field, SerializeTupleVariant: serialize_field
}

/// An object on the way.
struct Object<'w, 'a> {
    walk: &'w mut Walk<'a>,
    key: String<64>,
}

impl ser::SerializeMap for Object<'_, '_> {
    type Ok = ();
    type Error = TooLong;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), TooLong> {
        self.key.clear();
        key.serialize(Key(&mut self.key))
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), TooLong> {
        self.walk.part(Name::Field(&self.key), value)
    }

    fn end(self) -> Result<(), TooLong> {
        Ok(())
    }
}

/// Structs and the variants of an enum name their fields alike.
macro_rules! structs {
    ($($kind:ident),*) => {
        $(impl ser::$kind for Object<'_, '_> {
            type Ok = ();
            type Error = TooLong;

            fn serialize_field<T: Serialize + ?Sized>(
                &mut self,
                name: &'static str,
                value: &T,
            ) -> Result<(), TooLong> {
                self.walk.part(Name::Field(name), value)
            }

            fn end(self) -> Result<(), TooLong> {
                Ok(())
            }
        })*
    };
}

structs! { SerializeStruct, SerializeStructVariant }

/// Writes the key of a map, which is text.
struct Key<'k>(&'k mut String<64>);

/// No key of a report is anything but text.
macro_rules! no_keys {
    ($($method:ident($($kind:ty),*) $(-> $ok:ty)?;)*) => {
        $(no_keys!(@one $method($($kind),*) $(-> $ok)?);)*
    };
    (@one $method:ident($($kind:ty),*) -> $ok:ty) => {
        fn $method(self, $(_: $kind),*) -> Result<$ok, TooLong> { Err(TooLong) }
    };
    (@one $method:ident($($kind:ty),*)) => {
        fn $method(self, $(_: $kind),*) -> Result<(), TooLong> { Err(TooLong) }
    };
}

type NoPart = ser::Impossible<(), TooLong>;

impl Serializer for Key<'_> {
    type Ok = ();
    type Error = TooLong;
    type SerializeSeq = NoPart;
    type SerializeTuple = NoPart;
    type SerializeTupleStruct = NoPart;
    type SerializeTupleVariant = NoPart;
    type SerializeMap = NoPart;
    type SerializeStruct = NoPart;
    type SerializeStructVariant = NoPart;

    fn serialize_str(self, text: &str) -> Result<(), TooLong> {
        self.0.push_str(text).map_err(|_| TooLong)
    }

    no_keys! {
        serialize_bool(bool);
        serialize_i8(i8);
        serialize_i16(i16);
        serialize_i32(i32);
        serialize_i64(i64);
        serialize_u8(u8);
        serialize_u16(u16);
        serialize_u32(u32);
        serialize_u64(u64);
        serialize_f32(f32);
        serialize_f64(f64);
        serialize_char(char);
        serialize_bytes(&[u8]);
        serialize_none();
        serialize_unit();
        serialize_unit_struct(&'static str);
        serialize_unit_variant(&'static str, u32, &'static str);
        serialize_seq(Option<usize>) -> NoPart;
        serialize_tuple(usize) -> NoPart;
        serialize_tuple_struct(&'static str, usize) -> NoPart;
        serialize_tuple_variant(&'static str, u32, &'static str, usize) -> NoPart;
        serialize_map(Option<usize>) -> NoPart;
        serialize_struct(&'static str, usize) -> NoPart;
        serialize_struct_variant(&'static str, u32, &'static str, usize) -> NoPart;
    }

    fn serialize_some<T: Serialize + ?Sized>(self, _: &T) -> Result<(), TooLong> {
        Err(TooLong)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, _: &T) -> Result<(), TooLong> {
        Err(TooLong)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Result<(), TooLong> {
        Err(TooLong)
    }

    fn collect_str<T: fmt::Display + ?Sized>(self, text: &T) -> Result<(), TooLong> {
        write!(self.0, "{text}").map_err(|_| TooLong)
    }
}
