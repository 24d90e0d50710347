#pragma once

#include <string>
#include <string_view>

namespace ribbay {

/// Text as HTML shows it.
std::string html_escaped(std::string_view text);

/// An element around content that is HTML already.
std::string html_tag(const std::string& name, const std::string& content,
                     const std::string& css_class = {});

}  // namespace ribbay
