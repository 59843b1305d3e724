//! JSON in which an object is an object. The usual reader also takes a list for a struct, its fields in order; a record has no use
//! for that, and the code for it, made anew for every type, is a tenth of the program (docs/decisions/0006).

use serde::de::{
    Deserialize, DeserializeSeed, Deserializer, EnumAccess, Error, MapAccess, SeqAccess, VariantAccess, Visitor,
};

/// Reads a whole text as `T`.
///
/// # Errors
/// As `serde_json::from_str`, and when a list stands where an object belongs.
pub fn from_json<'de, T: Deserialize<'de>>(text: &'de str) -> Result<T, serde_json::Error> {
    let mut reader = serde_json::Deserializer::from_str(text);
    let value = T::deserialize(Strict(&mut reader))?;
    reader.end()?;
    Ok(value)
}

/// Around a reader, a visitor, an access or a seed: all that is read below it is read strictly too.
struct Strict<T>(T);

/// Methods that are handed on, the visitor made strict.
macro_rules! hand_on {
    ($($method:ident)*) => {$(
        fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, D::Error> {
            self.0.$method(Strict(visitor))
        }
    )*};
}

impl<'de, D: Deserializer<'de>> Deserializer<'de> for Strict<D> {
    type Error = D::Error;

    hand_on! {
        deserialize_any deserialize_bool deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8
        deserialize_u16 deserialize_u32 deserialize_u64 deserialize_f32 deserialize_f64 deserialize_char deserialize_str
        deserialize_string deserialize_bytes deserialize_byte_buf deserialize_option deserialize_unit deserialize_seq
        deserialize_map deserialize_identifier deserialize_ignored_any
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, name: &'static str, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_unit_struct(name, Strict(visitor))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, name: &'static str, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_newtype_struct(name, Strict(visitor))
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, len: usize, visitor: V) -> Result<V::Value, D::Error> {
        self.0.deserialize_tuple(len, Strict(visitor))
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        len: usize,
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.0.deserialize_tuple_struct(name, len, Strict(visitor))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.0.deserialize_map(Strict(visitor))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, D::Error> {
        self.0.deserialize_enum(name, variants, Strict(visitor))
    }
}

/// A visitor of an object: the one that takes no list, so that no code for lists is made.
impl<'de, V: Visitor<'de>> Visitor<'de> for Strict<V> {
    type Value = V::Value;

    fn expecting(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.expecting(f)
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<V::Value, E> {
        self.0.visit_bool(value)
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<V::Value, E> {
        self.0.visit_i64(value)
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<V::Value, E> {
        self.0.visit_u64(value)
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<V::Value, E> {
        self.0.visit_f64(value)
    }

    fn visit_str<E: Error>(self, value: &str) -> Result<V::Value, E> {
        self.0.visit_str(value)
    }

    fn visit_borrowed_str<E: Error>(self, value: &'de str) -> Result<V::Value, E> {
        self.0.visit_borrowed_str(value)
    }

    fn visit_none<E: Error>(self) -> Result<V::Value, E> {
        self.0.visit_none()
    }

    fn visit_unit<E: Error>(self) -> Result<V::Value, E> {
        self.0.visit_unit()
    }

    fn visit_some<D: Deserializer<'de>>(self, reader: D) -> Result<V::Value, D::Error> {
        self.0.visit_some(Strict(reader))
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, reader: D) -> Result<V::Value, D::Error> {
        self.0.visit_newtype_struct(Strict(reader))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, items: A) -> Result<V::Value, A::Error> {
        self.0.visit_seq(Strict(items))
    }

    fn visit_map<A: MapAccess<'de>>(self, fields: A) -> Result<V::Value, A::Error> {
        self.0.visit_map(Strict(fields))
    }

    fn visit_enum<A: EnumAccess<'de>>(self, variant: A) -> Result<V::Value, A::Error> {
        self.0.visit_enum(Strict(variant))
    }
}

impl<'de, S: DeserializeSeed<'de>> DeserializeSeed<'de> for Strict<S> {
    type Value = S::Value;

    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<S::Value, D::Error> {
        self.0.deserialize(Strict(reader))
    }
}

impl<'de, A: SeqAccess<'de>> SeqAccess<'de> for Strict<A> {
    type Error = A::Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, A::Error> {
        self.0.next_element_seed(Strict(seed))
    }
}

impl<'de, A: MapAccess<'de>> MapAccess<'de> for Strict<A> {
    type Error = A::Error;

    fn next_key_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, A::Error> {
        self.0.next_key_seed(seed)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, A::Error> {
        self.0.next_value_seed(Strict(seed))
    }
}

impl<'de, A: EnumAccess<'de>> EnumAccess<'de> for Strict<A> {
    type Error = A::Error;
    type Variant = Strict<A::Variant>;

    fn variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<(S::Value, Self::Variant), A::Error> {
        let (name, inside) = self.0.variant_seed(seed)?;
        Ok((name, Strict(inside)))
    }
}

impl<'de, A: VariantAccess<'de>> VariantAccess<'de> for Strict<A> {
    type Error = A::Error;

    fn unit_variant(self) -> Result<(), A::Error> {
        self.0.unit_variant()
    }

    fn newtype_variant_seed<S: DeserializeSeed<'de>>(self, seed: S) -> Result<S::Value, A::Error> {
        self.0.newtype_variant_seed(Strict(seed))
    }

    fn tuple_variant<V: Visitor<'de>>(self, len: usize, visitor: V) -> Result<V::Value, A::Error> {
        self.0.tuple_variant(len, Strict(visitor))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, A::Error> {
        self.0.newtype_variant_seed(Fields(visitor))
    }
}

/// The fields of a variant: an object.
struct Fields<V>(V);

impl<'de, V: Visitor<'de>> DeserializeSeed<'de> for Fields<V> {
    type Value = V::Value;

    fn deserialize<D: Deserializer<'de>>(self, reader: D) -> Result<V::Value, D::Error> {
        reader.deserialize_map(Strict(self.0))
    }
}

#[cfg(test)]
mod tests {
    use super::from_json;
    use crate::record::{Reversal, Tolerance};

    #[test]
    fn an_object_is_read_and_a_list_in_its_place_is_not() {
        let quantity = r#"{"text":"1","unit":"deg","value":1.0,"step":0.1}"#;
        let object = format!("{{\"first\":{quantity},\"turned\":{quantity}}}");
        assert!(from_json::<Reversal>(&object).is_ok());
        let list = format!("[{quantity},{quantity}]");
        assert!(serde_json::from_str::<Reversal>(&list).is_ok(), "the usual reader takes it");
        assert!(from_json::<Reversal>(&list).is_err());
        assert!(from_json::<Reversal>(&object.replace(quantity, r#"["1","deg",1.0,0.1]"#)).is_err(), "inside too");
        let variant = format!("{{\"plus-minus\":{{\"by\":{quantity}}}}}");
        assert!(from_json::<Tolerance>(&variant).is_ok());
        assert!(
            from_json::<Tolerance>(&variant.replace(&format!("{{\"by\":{quantity}}}"), &format!("[{quantity}]")))
                .is_err()
        );
        assert!(from_json::<Tolerance>("\"none\"").is_ok());
        assert!(from_json::<Tolerance>("\"none\" x").is_err(), "nothing may follow");
    }
}
