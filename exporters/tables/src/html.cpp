#include "tables/html.hpp"

namespace ribbay {

std::string html_escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

std::string html_tag(const std::string& name, const std::string& content,
                     const std::string& css_class) {
  const std::string attribute = css_class.empty() ? "" : " class=\"" + css_class + "\"";
  return "<" + name + attribute + ">" + content + "</" + name + ">";
}

}  // namespace ribbay
