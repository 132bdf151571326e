//! Texts and other values that many values hold at once: the source of a band stands in every hole that is judged by it, a
//! fixed word in every hole of a report, a judgement in every hole of a pattern. Holding one costs no copy.

use std::borrow::{Borrow, Cow};
use std::fmt;
use std::hash::{Hash, Hasher};
use std::ops::{Deref, DerefMut};
use std::sync::Arc;

use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A text that is not changed and costs next to nothing to clone. Compares, hashes and is written as the text itself.
#[derive(Clone)]
pub struct SharedText(Kind);

#[derive(Clone)]
enum Kind {
    Fixed(&'static str),
    Counted(Arc<str>),
    /// A text of no more than [`SHORT`] bytes, which are held in place: handles, threads and most names of layers are short.
    Short {
        length: u8,
        bytes: [u8; SHORT],
    },
}

/// So many bytes take no more room than a reference to a text does.
const SHORT: usize = 22;

impl SharedText {
    /// A word of the program itself.
    pub const fn fixed(word: &'static str) -> SharedText {
        SharedText(Kind::Fixed(word))
    }

    /// A copy of a text that is held elsewhere.
    pub fn copied(text: &str) -> SharedText {
        let mut bytes = [0; SHORT];
        match bytes.get_mut(..text.len()) {
            Some(place) => {
                place.copy_from_slice(text.as_bytes());
                SharedText(Kind::Short { length: text.len() as u8, bytes })
            }
            None => SharedText(Kind::Counted(text.into())),
        }
    }

    /// A short word and a number in digits of a base up to 16, without the general formatter: a report has some for each hole.
    pub(crate) fn numbered(word: &str, mut number: u64, base: u64) -> SharedText {
        const DIGITS: &[u8; 16] = b"0123456789ABCDEF";
        let mut text = [0; SHORT];
        let mut begin = SHORT;
        loop {
            begin -= 1;
            text[begin] = DIGITS[(number % base) as usize];
            number /= base;
            if number == 0 {
                break;
            }
        }
        let from = begin - word.len();
        text[from..begin].copy_from_slice(word.as_bytes());
        SharedText::copied(std::str::from_utf8(&text[from..]).unwrap_or_default())
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        match &self.0 {
            Kind::Fixed(text) => text,
            Kind::Counted(text) => text,
            // They are those of a text.
            Kind::Short { .. } => std::str::from_utf8(self.bytes()).unwrap_or_default(),
        }
    }

    fn bytes(&self) -> &[u8] {
        match &self.0 {
            Kind::Fixed(text) => text.as_bytes(),
            Kind::Counted(text) => text.as_bytes(),
            Kind::Short { length, bytes } => bytes.get(..usize::from(*length)).unwrap_or_default(),
        }
    }
}

impl Deref for SharedText {
    type Target = str;

    fn deref(&self) -> &str {
        self.as_str()
    }
}

impl Borrow<str> for SharedText {
    fn borrow(&self) -> &str {
        self
    }
}

impl From<&'static str> for SharedText {
    fn from(word: &'static str) -> Self {
        SharedText::fixed(word)
    }
}

impl From<String> for SharedText {
    fn from(text: String) -> Self {
        if text.len() <= SHORT { SharedText::copied(&text) } else { SharedText(Kind::Counted(text.into())) }
    }
}

impl Default for SharedText {
    fn default() -> Self {
        SharedText::fixed("")
    }
}

impl fmt::Debug for SharedText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.as_str().fmt(f)
    }
}

impl fmt::Display for SharedText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self)
    }
}

impl PartialEq for SharedText {
    fn eq(&self, other: &Self) -> bool {
        // Most that are alike are one and the same.
        std::ptr::eq(self.bytes(), other.bytes()) || self.bytes() == other.bytes()
    }
}

impl Eq for SharedText {}

impl PartialEq<str> for SharedText {
    fn eq(&self, other: &str) -> bool {
        self.as_str() == other
    }
}

impl PartialEq<&str> for SharedText {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}

impl PartialEq<String> for SharedText {
    fn eq(&self, other: &String) -> bool {
        self.as_str() == other
    }
}

impl PartialEq<SharedText> for String {
    fn eq(&self, other: &SharedText) -> bool {
        self == other.as_str()
    }
}

impl PartialOrd for SharedText {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for SharedText {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.as_str().cmp(other)
    }
}

impl Hash for SharedText {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.as_str().hash(state);
    }
}

impl Serialize for SharedText {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self)
    }
}

impl<'de> Deserialize<'de> for SharedText {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct AnyText;

        impl Visitor<'_> for AnyText {
            type Value = SharedText;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a string")
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<SharedText, E> {
                Ok(SharedText::copied(text))
            }
        }

        deserializer.deserialize_str(AnyText)
    }
}

impl JsonSchema for SharedText {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        String::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        String::json_schema(generator)
    }
}

/// A value that costs next to nothing to clone. Compares and is written as the value itself; changing one of several that
/// share a value leaves the others as they are.
#[derive(Debug, Default)]
pub struct Shared<T>(Arc<T>);

impl<T> Shared<T> {
    /// Whether both share one value, so that there is nothing to compare.
    pub fn is(&self, other: &Shared<T>) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
    }
}

impl<T> From<T> for Shared<T> {
    fn from(value: T) -> Self {
        Shared(Arc::new(value))
    }
}

impl<T> Clone for Shared<T> {
    fn clone(&self) -> Self {
        Shared(Arc::clone(&self.0))
    }
}

impl<T> Deref for Shared<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.0
    }
}

impl<T: Clone> DerefMut for Shared<T> {
    fn deref_mut(&mut self) -> &mut T {
        Arc::make_mut(&mut self.0)
    }
}

impl<T: PartialEq> PartialEq for Shared<T> {
    fn eq(&self, other: &Self) -> bool {
        *self.0 == *other.0
    }
}

impl<T: Serialize> Serialize for Shared<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Shared<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        T::deserialize(deserializer).map(Shared::from)
    }
}

impl<T: JsonSchema> JsonSchema for Shared<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }

    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn a_shared_value_is_written_as_itself_and_changed_alone() {
        let one = Shared::from(vec![1, 2]);
        let mut other = one.clone();
        assert!(one.is(&other) && one == other);
        other.push(3);
        assert!(!one.is(&other) && one != other);
        assert_eq!((one.as_slice(), other.as_slice()), (&[1, 2][..], &[1, 2, 3][..]));
        assert_eq!(serde_json::to_string(&other).expect("it can be written"), "[1,2,3]");
        assert_eq!(serde_json::from_str::<Shared<Vec<i32>>>("[1,2]").expect("and read"), one);
    }

    #[test]
    fn fixed_and_counted_texts_are_one_text() {
        let (fixed, counted) = (SharedText::fixed("rolled"), SharedText::from("rolled".to_owned()));
        assert_eq!(fixed, counted);
        assert_eq!((counted.len(), counted.as_str()), (6, "rolled"));
        assert_eq!(HashSet::from([fixed.clone(), counted.clone()]).len(), 1);
        assert_eq!(format!("[{counted:8}] {fixed:?}"), "[rolled  ] \"rolled\"");
        assert!(SharedText::default() < fixed);
    }

    #[test]
    fn texts_of_any_length_are_held_whole_and_short_ones_in_place() {
        assert_eq!(size_of::<SharedText>(), 24);
        for length in 0..60 {
            // Two bytes a character, so that the limit is met and passed.
            let text: String = "Ø±".chars().cycle().take(length).collect();
            let copied = SharedText::copied(&text);
            assert_eq!((copied.as_str(), &copied), (text.as_str(), &SharedText::from(text.clone())));
            assert_eq!(matches!(copied.0, Kind::Short { .. }), text.len() <= SHORT);
            assert_ne!(copied, SharedText::from(format!("{text}x")));
        }
    }

    #[test]
    fn numbers_are_written_in_digits_of_their_base() {
        for (handle, text) in
            [(0, "0"), (1, "1"), (0x10, "10"), (0x2AF, "2AF"), (u64::MAX, "FFFFFFFFFFFFFFFF")]
        {
            assert_eq!(SharedText::numbered("", handle, 16), text);
        }
        assert_eq!(SharedText::numbered("H", 120, 10), "H120");
        assert_eq!(SharedText::numbered("H", u64::MAX, 10), "H18446744073709551615");
    }

    #[test]
    fn it_is_written_and_read_as_a_plain_text() {
        let text = SharedText::fixed("Ø3.6 \"H11\"");
        let json = serde_json::to_string(&text).expect("a text can be written");
        assert_eq!(json, r#""Ø3.6 \"H11\"""#);
        assert_eq!(serde_json::from_str::<SharedText>(&json).expect("and read"), text);
    }
}
