#include "base/text.hpp"
#include "vehicle/survey.hpp"

#include <algorithm>
#include <charconv>

namespace ribbay {

namespace {

/// The text of one line of an input file; lines count from 1.
std::string_view line_of(const Document& document, const Place& place) {
  for (const InputFile& file : document.inputs) {
    if (file.path != place.file) continue;
    std::string_view rest = file.bytes;
    for (int line = 1; line < place.line; ++line) {
      const std::size_t end = rest.find('\n');
      if (end == std::string_view::npos) return {};
      rest.remove_prefix(end + 1);
    }
    return rest.substr(0, rest.find('\n'));
  }
  return {};
}

/// The number in the remark behind a blank, "# 17  left ..."; 0 when there is none.
int number_beside(std::string_view line) {
  const std::size_t hash = line.rfind('#');
  if (hash == std::string_view::npos) return 0;
  std::string_view remark = line.substr(hash + 1);
  remark.remove_prefix(std::min(remark.find_first_not_of(' '), remark.size()));
  int number = 0;
  const auto read = std::from_chars(remark.data(), remark.data() + remark.size(), number);
  return read.ec == std::errc() ? number : 0;
}

/// "7, 17-26, 31".
std::string ranges(std::vector<int> numbers) {
  std::ranges::sort(numbers);
  std::vector<std::string> words;
  for (std::size_t i = 0; i < numbers.size();) {
    std::size_t end = i;
    while (end + 1 < numbers.size() && numbers[end + 1] == numbers[end] + 1) ++end;
    words.push_back(std::to_string(numbers[i]) +
                    (end == i ? "" : "-" + std::to_string(numbers[end])));
    i = end + 1;
  }
  return join(words, ", ");
}

/// The blanks of one table.
struct Blanks {
  std::vector<int> numbers;
  std::vector<std::string> keys;  ///< of those without a number
  const Node* first = nullptr;
};

void collect(const Document& document, const Node& node, const std::string& key, Blanks& blanks) {
  if (const std::string* text = node.text(); text != nullptr && text->empty()) {
    if (blanks.first == nullptr) blanks.first = &node;
    if (const int number = number_beside(line_of(document, node.place))) {
      blanks.numbers.push_back(number);
    } else if (std::ranges::find(blanks.keys, key) == blanks.keys.end()) {
      blanks.keys.push_back(key);
    }
  }
  if (const Node::Array* list = node.array()) {
    for (const Node& item : *list) collect(document, item, key, blanks);
  }
  if (const Node::Table* table = node.table()) {
    for (const Entry& entry : *table) collect(document, entry.value, entry.key, blanks);
  }
}

void report(const Document& document, const Node& table, const std::string& name,
            Findings& findings) {
  Blanks blanks;
  collect(document, table, name, blanks);
  if (blanks.first == nullptr) return;
  std::vector<std::string> which = std::move(blanks.keys);
  if (!blanks.numbers.empty()) which.insert(which.begin(), ranges(std::move(blanks.numbers)));
  Finding finding = input_error("survey.blanks", blanks.first->place);
  finding.subjects.push_back(name);
  finding.with("which", join(which, ", "));
  findings.push_back(std::move(finding));
}

}  // namespace

Findings empty_blanks(const Document& document) {
  Findings findings;
  if (document.root.table() == nullptr) return findings;
  for (const Entry& entry : *document.root.table()) {
    const Node::Table* inner = entry.value.table();
    if (inner == nullptr || entry.key == "vehicle" || entry.key == "weighbridge") {
      report(document, entry.value, entry.key, findings);
      continue;
    }
    for (const Entry& named : *inner)
      report(document, named.value, entry.key + "." + named.key, findings);
  }
  return findings;
}

}  // namespace ribbay
