#pragma once

namespace swardwalk::mobile {

/// Loads the embedded font and makes it the application's. Call once, after the
/// application object is made.
void loadFonts();

}  // namespace swardwalk::mobile
