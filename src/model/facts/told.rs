//! Reasons as data, each declared once with its sentence.

/// An enum of reasons: each case with what it holds and, behind the equals sign, its sentence without a period; the word after `in` names the units shown there.
macro_rules! told {
    ($(#[$about:meta])* $name:ident in $units:ident; $($(#[$doc:meta])* $case:ident $(($($field:ident: $of:ty),+))? = $sentence:expr;)+) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq)]
        pub enum $name {
            $($(#[$doc])* $case $(($($of),+))?,)+
        }

        impl $name {
            /// One sentence without a period that names the value and says what would be right, in the units shown.
            pub fn sentence(&self, $units: UnitSystem) -> String {
                match self {
                    $(Self::$case $(($($field),+))? => $sentence.into(),)+
                }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(&self.sentence(UnitSystem::InchPound))
            }
        }

        impl std::error::Error for $name {}
    };
}

pub(crate) use told;
