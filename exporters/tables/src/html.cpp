#include "tables/html.hpp"

namespace ribbay {

std::string html_tag(const std::string& name, const std::string& content,
                     const std::string& css_class) {
  const std::string attribute = css_class.empty() ? "" : " class=\"" + css_class + "\"";
  return "<" + name + attribute + ">" + content + "</" + name + ">";
}

}  // namespace ribbay
