#pragma once

#include <string>
#include <string_view>

namespace ribbay {

/// Text as it stands in XML and HTML, between tags and in attributes. Control characters, which
/// XML 1.0 has no place for, are left out, but for tabs and line ends.
std::string markup_escaped(std::string_view text);

}  // namespace ribbay
