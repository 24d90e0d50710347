#include "kind_page.hpp"

#include "base/text.hpp"
#include "reference/reference.hpp"

#include <algorithm>
#include <vector>

namespace ribbay::detail {

namespace {

constexpr std::size_t kPageWidth = 100;

/// `text` broken between words, every line indented.
std::string wrapped(const std::string& text, const std::string& indent) {
  std::string page;
  std::string line = indent;
  for (const std::string& word : split(text, ' ')) {
    if (line.size() > indent.size() && line.size() + 1 + word.size() > kPageWidth) {
      page += line + "\n";
      line = indent;
    }
    line += (line.size() > indent.size() ? " " : "") + word;
  }
  return page + line + "\n";
}

std::string fields_page(const Schema& schema) {
  std::string page;
  for (const auto& [path, field] : listed_fields(schema)) {
    page += "\n  " + path + "\n";
    page += wrapped(describe(*field) + (field->required ? ", required" : ""), "      ");
    page += wrapped(field->meaning, "      ");
  }
  return page;
}

}  // namespace

std::string list_of_kinds() {
  const std::vector<NamedSchema> all = project_schemas();
  std::size_t width = 0;
  for (const NamedSchema& named : all) width = std::max(width, named.name.size());
  std::string page = "What parameter files may hold; \"ribbay explain KIND\" tells more.\n\n";
  for (const NamedSchema& named : all) {
    std::string name = "  " + named.name;
    name.resize(width + 4, ' ');
    page += name + named.heading + "\n";
  }
  return page +
         "\n\"ribbay explain rack.width FILE\" tells where a value of a project comes from.\n";
}

std::optional<std::string> kind_page(const std::string& kind) {
  std::string page;
  for (const NamedSchema& named : project_schemas()) {
    if (named.name != kind) continue;
    if (!page.empty()) page += "\n";
    page += named.heading + "\n" + wrapped(named.schema->meaning, "  ");
    page += fields_page(*named.schema);
  }
  if (page.empty()) return std::nullopt;
  return page;
}

std::string unknown_kind(const std::string& kind) {
  std::vector<std::string> names;
  for (const NamedSchema& named : project_schemas()) names.push_back(named.name);
  std::string text = "ribbay: there is no kind \"" + kind + "\"";
  const std::string near = nearest(kind, names);
  return text +
         (near.empty() ? ". There are: " + join(names, ", ") : "; did you mean " + near + "?") +
         "\n";
}

}  // namespace ribbay::detail
