//! Gives a closed list of words its one written form, for records, columns and options alike.

/// Declares an enum whose variants are written in kebab case: serde, `as_str`, `from_text` and `ALL`
/// all use the same words.
///
/// `from_text` forgives capitals, spaces and underscores, and nothing else.
macro_rules! named_enum {
    ($(#[$meta:meta])* pub enum $name:ident { $($(#[$vmeta:meta])* $variant:ident = $text:literal),+ $(,)? }) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        pub enum $name {
            $($(#[$vmeta])* #[serde(rename = $text)] $variant,)+
        }

        impl $name {
            /// Every value, in the order in which people are offered them.
            pub const ALL: &'static [$name] = &[$($name::$variant),+];

            /// Their written forms, in the same order.
            #[allow(dead_code, reason = "a closed list has both, whichever of them is used")]
            pub const WORDS: &'static [&'static str] = &[$($text),+];

            /// The written form, as in records, CSV columns and command options.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $($name::$variant => $text),+ }
            }

            /// Reads the written form; capitals, spaces and underscores are forgiven.
            #[must_use]
            pub fn from_text(text: &str) -> Option<Self> {
                let wanted = $crate::rules::named::kebab(text);
                Self::ALL.iter().copied().find(|value| value.as_str() == wanted)
            }
        }
    };
}
pub(crate) use named_enum;

/// Lower case, with runs of spaces, underscores and dashes folded into one dash.
pub(crate) fn kebab(text: &str) -> String {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| c.is_whitespace() || c == '_' || c == '-')
        .filter(|word| !word.is_empty())
        .collect();
    words.join("-")
}
