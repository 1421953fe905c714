//! A job from tokens: a reader with no text in it, so that only the core's own reading is on trial.
//!
//! A value is one byte and what belongs to it: `0` nothing, `f` and `t` a boolean, `n` a number in eight bytes, `s` a text
//! with its length in two bytes, `[` and `{` values up to `]` and `}`; in an object a text stands before each value.

use core::fmt::{self, Display};
use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde::forward_to_deserialize_any;

/// Where the tokens end too early, or the job does not take them.
#[derive(Debug)]
pub struct Broken;

impl Display for Broken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("broken")
    }
}

impl core::error::Error for Broken {}

impl Error for Broken {
    // The words of such a fault are made by whoever reads text.
    fn custom<T: Display>(_: T) -> Self {
        Self
    }
}

/// Tokens that are still to be read.
pub struct Tokens<'de>(pub &'de [u8]);

impl<'de> Tokens<'de> {
    fn next(&mut self) -> Result<u8, Broken> {
        let (first, rest) = self.0.split_first().ok_or(Broken)?;
        self.0 = rest;
        Ok(*first)
    }

    fn text(&mut self) -> Result<&'de str, Broken> {
        let (length, rest) = self.0.split_first_chunk::<2>().ok_or(Broken)?;
        let (text, rest) = rest.split_at_checked(u16::from_le_bytes(*length).into()).ok_or(Broken)?;
        self.0 = rest;
        core::str::from_utf8(text).map_err(|_| Broken)
    }

    fn number(&mut self) -> Result<f64, Broken> {
        let (number, rest) = self.0.split_first_chunk().ok_or(Broken)?;
        self.0 = rest;
        Ok(f64::from_le_bytes(*number))
    }

    /// Whether the list or object goes on.
    fn goes_on(&mut self, end: u8) -> bool {
        let ends = self.0.first().is_none_or(|next| *next == end);
        if ends {
            self.0 = self.0.get(1..).unwrap_or_default();
        }
        !ends
    }
}

impl<'de> Deserializer<'de> for &mut Tokens<'de> {
    type Error = Broken;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Broken> {
        match self.next()? {
            b'0' => visitor.visit_unit(),
            b'f' => visitor.visit_bool(false),
            b't' => visitor.visit_bool(true),
            b'n' => visitor.visit_f64(self.number()?),
            b's' => visitor.visit_str(self.text()?),
            b'[' => visitor.visit_seq(Rest { tokens: self }),
            b'{' => visitor.visit_map(Rest { tokens: self }),
            _ => Err(Broken),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Broken> {
        if self.0.first() == Some(&b'0') {
            self.next()?;
            visitor.visit_none()
        } else {
            visitor.visit_some(self)
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, Broken> {
        visitor.visit_newtype_struct(self)
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct seq tuple
        tuple_struct map struct enum identifier ignored_any
    }
}

/// The rest of a list or of an object.
struct Rest<'r, 'de> {
    tokens: &'r mut Tokens<'de>,
}

impl<'de> SeqAccess<'de> for Rest<'_, 'de> {
    type Error = Broken;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, Broken> {
        if self.tokens.goes_on(b']') { seed.deserialize(&mut *self.tokens).map(Some) } else { Ok(None) }
    }
}

impl<'de> MapAccess<'de> for Rest<'_, 'de> {
    type Error = Broken;

    fn next_key_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, Broken> {
        if self.tokens.goes_on(b'}') { seed.deserialize(&mut *self.tokens).map(Some) } else { Ok(None) }
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, Broken> {
        seed.deserialize(&mut *self.tokens)
    }
}
