#pragma once

#include <string>
#include <string_view>
#include <vector>

/// A small check that a text is well-formed XML 1.0 as far as our files use it: declaration,
/// elements, attributes in double quotes, the five entities. Returns what is wrong, or nothing.
inline std::string xml_fault(std::string_view text) {
  std::vector<std::string> open;
  bool root_seen = false;
  const auto bad_text = [](std::string_view part) {
    for (std::size_t i = 0; i < part.size(); ++i) {
      if (part[i] == '<' || static_cast<unsigned char>(part[i]) < 0x09) return true;
      if (part[i] != '&') continue;
      const auto end = part.find(';', i);
      const auto name = end == std::string_view::npos ? part : part.substr(i + 1, end - i - 1);
      if (name != "amp" && name != "lt" && name != "gt" && name != "quot" && name != "apos")
        return true;
    }
    return false;
  };
  if (text.starts_with("<?xml")) text.remove_prefix(text.find("?>") + 2);
  while (!text.empty()) {
    const auto tag = text.find('<');
    const auto before = text.substr(0, tag);
    if (bad_text(before))
      return "character that needs an entity: " + std::string(before.substr(0, 40));
    if (open.empty() && before.find_first_not_of(" \n") != std::string_view::npos)
      return "text outside of the root";
    if (tag == std::string_view::npos) break;
    const auto end = text.find('>', tag);
    if (end == std::string_view::npos) return "tag that does not end";
    std::string_view inner = text.substr(tag + 1, end - tag - 1);
    text.remove_prefix(end + 1);
    if (inner.starts_with('/')) {
      if (open.empty() || open.back() != inner.substr(1))
        return "end tag without start: " + std::string(inner);
      open.pop_back();
      continue;
    }
    const bool empty = inner.ends_with('/');
    if (empty) inner.remove_suffix(1);
    const auto name = inner.substr(0, inner.find_first_of(" \n"));
    inner.remove_prefix(name.size());
    std::vector<std::string_view> names;
    while (inner.find_first_not_of(" \n") != std::string_view::npos) {
      inner.remove_prefix(inner.find_first_not_of(" \n"));
      const auto equals = inner.find("=\"");
      if (equals == std::string_view::npos)
        return "attribute without value in " + std::string(name);
      const auto attribute = inner.substr(0, equals);
      for (const auto n : names) {
        if (n == attribute) return "attribute twice in " + std::string(name);
      }
      names.push_back(attribute);
      const auto close = inner.find('"', equals + 2);
      if (close == std::string_view::npos)
        return "attribute that does not end in " + std::string(name);
      if (bad_text(inner.substr(equals + 2, close - equals - 2)))
        return "bad attribute in " + std::string(name);
      inner.remove_prefix(close + 1);
    }
    if (open.empty() && root_seen) return "two roots";
    root_seen = true;
    if (!empty) open.emplace_back(name);
  }
  return open.empty() ? (root_seen ? "" : "no root") : "not closed: " + open.back();
}
