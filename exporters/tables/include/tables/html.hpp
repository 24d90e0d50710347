#pragma once

#include <string>

namespace ribbay {

/// An element around content that is HTML already.
std::string html_tag(const std::string& name, const std::string& content,
                     const std::string& css_class = {});

/// A whole page of plain letters for screen and paper that loads nothing from elsewhere: `body`
/// under styles that all pages share (tables, .note, .warn, .signed for lines to sign on) and `style`.
/// `title` is plain text, `body` is HTML.
std::string html_page(const std::string& title, const std::string& style, const std::string& body);

}  // namespace ribbay
