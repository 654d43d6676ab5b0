// The .mxl container of MusicXML 4.0: a zip file whose first entry `mimetype` is stored without
// compression or extra field, then META-INF/container.xml, then the score.
#pragma once

#include <string>
#include <string_view>

#include <relead/outcome.h>

namespace relead::formats {

/// Packs a MusicXML document as `inner_name` (for example "ferry.musicxml"; no folders). The bytes
/// depend on the arguments alone: the entries carry the zip format's earliest date.
/// The value is absent, with code "io-archive", only when there is no memory for it.
[[nodiscard]] Outcome<std::string> pack_mxl(std::string_view inner_name, std::string_view document);

}  // namespace relead::formats
