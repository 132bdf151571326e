//! What the program sees on a drawing: every circle, callout and hole, as `holes` prints it. Plain data.
