//! Texts in a design: the job's own words, and explanations for people.

use serde::{Deserialize, Serialize};
use std::fmt;

macro_rules! texts {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(transparent)]
        pub struct $name(pub String);

        impl $name {
            /// Its text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }

        impl<T: Into<String>> From<T> for $name {
            fn from(text: T) -> Self {
                Self(text.into())
            }
        }
    )*};
}

texts! {
    /// A name or title in the job's own words.
    Name;
    /// An explanation for people; whatever a program needs stands beside it as data.
    Note;
}
