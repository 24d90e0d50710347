#include "json_text.hpp"

namespace ribbay::detail {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kLineWidth = 120;

void write(const Json& json, const std::string& indent, std::size_t room, std::string& text) {
  const std::string line = json.dump();
  if (!json.is_structured() || json.empty() || indent.size() + line.size() + room <= kLineWidth) {
    text += line;
    return;
  }
  const std::string inner = indent + " ";
  text += json.is_object() ? "{\n" : "[\n";
  for (auto item = json.begin(); item != json.end(); ++item) {
    if (item != json.begin()) text += ",\n";
    const std::string key = json.is_object() ? Json(item.key()).dump() + ": " : "";
    text += inner + key;
    write(*item, inner, key.size() + 1, text);
  }
  text += "\n" + indent + (json.is_object() ? "}" : "]");
}

}  // namespace

std::string json_text(const Json& json) {
  std::string text;
  write(json, "", 0, text);
  return text + "\n";
}

}  // namespace ribbay::detail
