//! How much there is of entities and of what they refer to, to forget what came after some moment.

use super::Raw;

/// For these lists of [`Raw`]: how long they are, and how they are made as long as they were.
macro_rules! counted {
    ($($list:ident),* $(,)?) => {
        /// The lengths of the lists of entities and of all that these refer to, at some moment.
        #[derive(Debug, Clone, Copy)]
        pub(in crate::dxf) struct Counts {
            $($list: usize,)*
        }

        impl Raw<'_> {
            /// How much there is now.
            pub(in crate::dxf) fn counts(&self) -> Counts {
                Counts { $($list: self.$list.len(),)* }
            }

            /// Forgets the entities that came later, and what they refer to.
            pub(in crate::dxf) fn forget_behind(&mut self, counts: &Counts) {
                $(self.$list.truncate(counts.$list);)*
            }
        }
    };
}

counted!(
    entities,
    attributes,
    vertices,
    spatial_lines,
    arcs,
    ellipses,
    splines,
    texts,
    inserts,
    dimensions,
    leaders,
    multi_leaders,
    viewports,
    tables,
);
