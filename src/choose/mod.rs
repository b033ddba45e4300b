//! What is chosen, each search with a proof or a stated gap: how a run is broken and fed, on which
//! devices its loads hang, from which stock its pieces are cut.
//!
//! ```text
//! feeding   one run: breaks, feeds, wires           devices   loads to decoders and supplies
//!                                                   stock     pieces to bars and reels
//!                     packing   the exact search under devices and stock
//! ```

pub mod devices;
pub mod feeding;
mod packing;
pub mod stock;
