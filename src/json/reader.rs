//! What a type asks for, taken from the text.

use serde::de::value::StrDeserializer;
use serde::de::{DeserializeSeed, Deserializer, EnumAccess, Error as _, MapAccess, SeqAccess, VariantAccess, Visitor};
use serde::forward_to_deserialize_any;

use super::{ReadError, Scanner};
use crate::quantity::decimal;

impl<'de> Deserializer<'de> for &mut Scanner<'de> {
    type Error = ReadError;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        Err(ReadError::custom(format_args!("this reader does not know how {} is written", Wanted(&visitor))))
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        let yes = self.word("true");
        if yes || self.word("false") { visitor.visit_bool(yes) } else { Err(self.wrong("expected true or false")) }
    }

    fn deserialize_u8<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u16<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        self.deserialize_u64(visitor)
    }

    fn deserialize_u64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        let written = self.number()?;
        visitor.visit_u64(written.parse().map_err(|_| ReadError::wrong("expected a whole number"))?)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        let value = decimal(self.number()?).filter(|value| value.is_finite());
        visitor.visit_f64(value.ok_or_else(|| ReadError::wrong("number out of range"))?)
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        visitor.visit_str(&self.string()?)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        visitor.visit_string(self.string()?.into_owned())
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        if self.word("null") { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, ReadError> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        self.expect(b'[')?;
        visitor.visit_seq(Parts { scanner: self, first: true })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        self.expect(b'{')?;
        visitor.visit_map(Parts { scanner: self, first: true })
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        let bare = !self.take(b'{');
        let value = visitor.visit_enum(Variant { scanner: self, bare })?;
        if !bare {
            self.expect(b'}')?;
        }
        Ok(value)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        self.skip(0)?;
        visitor.visit_unit()
    }

    forward_to_deserialize_any! {
        i8 i16 i32 i64 f32 char bytes byte_buf unit unit_struct tuple tuple_struct map identifier
    }
}

/// What a visitor expects, in its own words.
struct Wanted<'v, V>(&'v V);

impl<'de, V: Visitor<'de>> std::fmt::Display for Wanted<'_, V> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.expecting(f)
    }
}

/// The parts of a list or of an object, whose opening bracket has been taken.
struct Parts<'s, 'de> {
    scanner: &'s mut Scanner<'de>,
    first: bool,
}

impl<'de> SeqAccess<'de> for Parts<'_, 'de> {
    type Error = ReadError;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, ReadError> {
        if self.scanner.another(&mut self.first, b']')? {
            seed.deserialize(&mut *self.scanner).map(Some)
        } else {
            Ok(None)
        }
    }
}

impl<'de> MapAccess<'de> for Parts<'_, 'de> {
    type Error = ReadError;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, ReadError> {
        if !self.scanner.another(&mut self.first, b'}')? {
            return Ok(None);
        }
        seed.deserialize(StrDeserializer::new(&self.scanner.string()?)).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, ReadError> {
        self.scanner.expect(b':')?;
        seed.deserialize(&mut *self.scanner)
    }
}

/// A variant: `bare` is its name alone, else it is the one field of an object whose opening bracket has been taken.
struct Variant<'s, 'de> {
    scanner: &'s mut Scanner<'de>,
    bare: bool,
}

impl<'de> Variant<'_, 'de> {
    /// The scanner at the variant's value.
    fn value(&mut self) -> Result<&mut Scanner<'de>, ReadError> {
        if self.bare { Err(self.scanner.wrong("a variant without its value")) } else { Ok(self.scanner) }
    }
}

impl<'de> EnumAccess<'de> for Variant<'_, 'de> {
    type Error = ReadError;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), ReadError> {
        let name = self.scanner.string()?;
        if !self.bare {
            self.scanner.expect(b':')?;
        }
        Ok((seed.deserialize(StrDeserializer::new(&name))?, self))
    }
}

impl<'de> VariantAccess<'de> for Variant<'_, 'de> {
    type Error = ReadError;

    fn unit_variant(self) -> Result<(), ReadError> {
        if self.bare { Ok(()) } else { Err(self.scanner.wrong("a variant with a value that it has not")) }
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(mut self, seed: T) -> Result<T::Value, ReadError> {
        seed.deserialize(self.value()?)
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, ReadError> {
        self.scanner.deserialize_any(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        mut self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        self.value()?.deserialize_struct("", fields, visitor)
    }
}
