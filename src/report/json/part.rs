//! How a part of the report is declared.

/// A part of the report and the function that tells it: its keys in their order, each with its kind and its value; what stands in square brackets is worked out first.
macro_rules! part {
    (
        $(#[$about:meta])*
        fn $tells:ident($($given:ident: $of:ty),+) -> $part:ident $([$($before:tt)*])? {
            $($(#[$told:meta])* $key:ident: $kind:ty = $value:expr,)+
        }
    ) => {
        $(#[$about])*
        #[derive(Debug, serde::Serialize)]
        pub(super) struct $part {
            $($(#[$told])* pub $key: $kind),+
        }

        pub(super) fn $tells($($given: $of),+) -> $part {
            $($($before)*)?
            $part { $($key: $value),+ }
        }
    };
}

pub(super) use part;
