//! What loftwatch promises, held by conversations with a clock.
