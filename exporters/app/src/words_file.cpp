#include "words_file.hpp"

#include "base/text.hpp"
#include "drawings/lettering.hpp"
#include "spec/document.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

const Wording* wording_of(const std::string& key) {
  const auto& table = english_words();
  const auto found = std::ranges::lower_bound(table, std::string_view(key), {}, &Wording::key);
  return found != table.end() && found->key == key ? &*found : nullptr;
}

std::string nearest_key(const std::string& key) {
  std::vector<std::string> keys;
  for (const Wording& wording : english_words()) keys.emplace_back(wording.key);
  return nearest(key, keys);
}

/// Goes through the tables of a file and gathers its texts and what is wrong with them.
class Reader {
 public:
  void read(const Node::Table& table, const std::string& path) {
    for (const Entry& entry : table) {
      const std::string key = path.empty() ? entry.key : path + "." + entry.key;
      if (path.empty() && key == "format") continue;  // every file may say which it has
      if (const Node::Table* inner = entry.value.table()) {
        read(*inner, key);
      } else {
        take(key, entry);
      }
    }
  }

  Language language;
  Findings findings;

 private:
  Finding& fault(const std::string& code, const Place& place, const std::string& key) {
    Finding finding = input_error(code, place);
    finding.subjects = {key};
    findings.push_back(std::move(finding));
    return findings.back();
  }

  void take(const std::string& key, const Entry& entry) {
    const Wording* english = wording_of(key);
    if (english == nullptr) {
      Finding& finding = fault("words.unknown", entry.key_place, key);
      if (const std::string near = nearest_key(key); !near.empty()) finding.with("nearest", near);
      return;
    }
    const std::string* text = entry.value.text();
    if (text == nullptr) {
      fault("words.not_text", entry.value.place, key)
          .with("found", std::string(entry.value.kind_name()));
      return;
    }
    const std::vector<std::string> filled = places_of(english->text);
    for (const std::string& place : places_of(*text)) {
      if (std::ranges::find(filled, place) != filled.end()) continue;
      fault("words.place", entry.value.place, key)
          .with("place", "{" + place + "}")
          .with("english", std::string(english->text));
    }
    if (!can_letter(*text)) fault("words.letter", entry.value.place, key).with("found", *text);
    language[key] = *text;
  }
};

}  // namespace

Result<Language> read_words(const std::string& path) {
  Built<Document> document = load_document(path);
  Reader reader;
  reader.findings = std::move(document.findings);
  for (Finding& finding : reader.findings) {
    if (finding.code == "input.no_file" && finding.subjects.front() == path)
      finding.code = "words.no_file";  // it can be had from this program
  }
  if (const Node::Table* table = document.value.root.table(); table != nullptr)
    reader.read(*table, "");
  if (has_errors(reader.findings)) return fail(std::move(reader.findings));
  return std::move(reader.language);
}

std::string english_words_file() {
  std::string file =
      "# What drawings and pages say. Translate the texts and leave their keys; {places} are "
      "filled in,\n"
      "# in whatever order the language wants. What is left out stays English.\n"
      "# ribbay build PROJECT.toml --words THIS.toml\n\n";
  for (const Wording& wording : english_words()) {
    std::string text;
    for (const char c : wording.text) {
      if (c == '"' || c == '\\') text += '\\';
      text += c;
    }
    file += std::string(wording.key) + " = \"" + text + "\"\n";
  }
  return file;
}

}  // namespace ribbay::detail
