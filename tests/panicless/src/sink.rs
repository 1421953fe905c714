//! Where values and words go: nothing is kept but a sum, so that nothing can run full and nothing is left out.

use crate::tokens::Broken;
use core::fmt::{self, Display, Write};
use serde::Serialize;
use serde::ser::{
    Error, SerializeMap, SerializeSeq, SerializeStruct, SerializeStructVariant, SerializeTuple, SerializeTupleStruct,
    SerializeTupleVariant, Serializer,
};

impl Error for Broken {
    fn custom<T: Display>(_: T) -> Self {
        Self
    }
}

/// A sum over all that was written.
#[derive(Default)]
pub struct Sink(u64);

impl Sink {
    fn add(&mut self, bits: u64) {
        self.0 = self.0.wrapping_mul(31).wrapping_add(bits);
    }

    /// The sum so far.
    pub const fn sum(&self) -> u64 {
        self.0
    }

    /// Adds a number.
    pub fn number(&mut self, value: f64) {
        self.add(value.to_bits());
    }

    /// Adds the words of a value.
    pub fn words(&mut self, value: impl Display) {
        let _ = write!(self, "{value}");
    }
}

impl Write for Sink {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        for byte in text.bytes() {
            self.add(byte.into());
        }
        Ok(())
    }
}

macro_rules! numbers {
    ($($name:ident: $number:ty => $bits:expr),* $(,)?) => {$(
        fn $name(self, value: $number) -> Result<(), Broken> {
            let bits: fn($number) -> u64 = $bits;
            self.add(bits(value));
            Ok(())
        }
    )*};
}

impl Serializer for &mut Sink {
    type Ok = ();
    type Error = Broken;
    type SerializeSeq = Self;
    type SerializeTuple = Self;
    type SerializeTupleStruct = Self;
    type SerializeTupleVariant = Self;
    type SerializeMap = Self;
    type SerializeStruct = Self;
    type SerializeStructVariant = Self;

    numbers! {
        serialize_bool: bool => u64::from,
        serialize_i8: i8 => |n| i64::from(n).cast_unsigned(),
        serialize_i16: i16 => |n| i64::from(n).cast_unsigned(),
        serialize_i32: i32 => |n| i64::from(n).cast_unsigned(),
        serialize_i64: i64 => i64::cast_unsigned,
        serialize_u8: u8 => u64::from,
        serialize_u16: u16 => u64::from,
        serialize_u32: u32 => u64::from,
        serialize_u64: u64 => |n| n,
        serialize_f32: f32 => |x| x.to_bits().into(),
        serialize_f64: f64 => f64::to_bits,
        serialize_char: char => |c| u32::from(c).into(),
    }

    fn serialize_str(self, text: &str) -> Result<(), Broken> {
        self.write_str(text).map_err(|_| Broken)
    }

    fn collect_str<T: Display + ?Sized>(self, value: &T) -> Result<(), Broken> {
        write!(self, "{value}").map_err(|_| Broken)
    }

    fn serialize_bytes(self, bytes: &[u8]) -> Result<(), Broken> {
        for byte in bytes {
            self.add((*byte).into());
        }
        Ok(())
    }

    fn serialize_none(self) -> Result<(), Broken> {
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), Broken> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), Broken> {
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), Broken> {
        Ok(())
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, variant: &'static str) -> Result<(), Broken> {
        self.serialize_str(variant)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, value: &T) -> Result<(), Broken> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        value: &T,
    ) -> Result<(), Broken> {
        value.serialize(self)
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Self, Broken> {
        Ok(self)
    }

    fn serialize_tuple(self, _: usize) -> Result<Self, Broken> {
        Ok(self)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Self, Broken> {
        Ok(self)
    }

    fn serialize_tuple_variant(self, _: &'static str, _: u32, _: &'static str, _: usize) -> Result<Self, Broken> {
        Ok(self)
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Self, Broken> {
        Ok(self)
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Self, Broken> {
        Ok(self)
    }

    fn serialize_struct_variant(self, _: &'static str, _: u32, _: &'static str, _: usize) -> Result<Self, Broken> {
        Ok(self)
    }
}

macro_rules! parts {
    ($($kind:ident $method:ident),* $(,)?) => {$(
        impl $kind for &mut Sink {
            type Ok = ();
            type Error = Broken;

            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Broken> {
                value.serialize(&mut **self)
            }

            fn end(self) -> Result<(), Broken> {
                Ok(())
            }
        }
    )*};
}

parts! {
    SerializeSeq serialize_element,
    SerializeTuple serialize_element,
    SerializeTupleStruct serialize_field,
    SerializeTupleVariant serialize_field,
}

macro_rules! fields {
    ($($kind:ident),*) => {$(
        impl $kind for &mut Sink {
            type Ok = ();
            type Error = Broken;

            fn serialize_field<T: Serialize + ?Sized>(&mut self, name: &'static str, value: &T) -> Result<(), Broken> {
                self.serialize_str(name)?;
                value.serialize(&mut **self)
            }

            fn end(self) -> Result<(), Broken> {
                Ok(())
            }
        }
    )*};
}

fields!(SerializeStruct, SerializeStructVariant);

impl SerializeMap for &mut Sink {
    type Ok = ();
    type Error = Broken;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), Broken> {
        key.serialize(&mut **self)
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Broken> {
        value.serialize(&mut **self)
    }

    fn end(self) -> Result<(), Broken> {
        Ok(())
    }
}
