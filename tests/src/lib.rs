//! The spec of loftwatch. Decides how what it promises is written down and tried; there is no product
//! code here. [`talk`] runs the conversations of `scenarios/`.

pub mod talk;
