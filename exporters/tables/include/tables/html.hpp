#pragma once

#include <string>

namespace ribbay {

/// An element around content that is HTML already.
std::string html_tag(const std::string& name, const std::string& content,
                     const std::string& css_class = {});

}  // namespace ribbay
