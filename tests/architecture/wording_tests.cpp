#include "base/wording.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

// What drawings and pages say stands in one table (base/wording.hpp), so that another language is a
// file. This reads the sources: no words beside the table, no key without its text, none unused.

namespace fs = std::filesystem;
using namespace ribbay;

namespace {

std::vector<fs::path> sources_of(const std::vector<std::string>& folders) {
  std::vector<fs::path> files;
  for (const std::string& folder : folders) {
    for (const auto& entry :
         fs::recursive_directory_iterator(fs::path(RIBBAY_SOURCE_DIR) / folder)) {
      if (entry.path().extension() == ".cpp" || entry.path().extension() == ".hpp")
        files.push_back(entry.path());
    }
  }
  std::ranges::sort(files);
  return files;
}

/// The text of a file without comments and include lines.
std::string code_of(const fs::path& path) {
  std::ifstream in(path);
  std::string code;
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("#include")) continue;
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (line[i] == '\\' && quoted)
        code += line[i++];
      else if (line[i] == '"')
        quoted = !quoted;
      else if (!quoted && line.compare(i, 2, "//") == 0)
        break;
      code += line[i];
    }
    code += '\n';
  }
  return code;
}

bool speaks(const fs::path& path) {
  std::ifstream in(path);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str().find("#include \"base/wording.hpp\"") != std::string::npos;
}

const std::regex kLiteral("\"((?:[^\"\\\\\n]|\\\\.)*)\"");

std::vector<std::string> literals_in(const std::string& code) {
  std::vector<std::string> all;
  for (std::sregex_iterator it(code.begin(), code.end(), kLiteral), end; it != end; ++it)
    all.push_back((*it)[1]);
  return all;
}

/// Looks like something that people read: a word with a capital, or words with a space beside them.
bool is_worded(const std::string& literal) {
  static const std::regex read("[A-Z][a-z]|[A-Z]{3}|[a-z]{2}[,.:;]? |[,.:;]? [a-z]{2}");
  return std::regex_search(literal, read);
}

/// One call of `say` with keys written in it: the keys, and the places that it fills.
struct Call {
  std::vector<std::string> keys;
  std::set<std::string> filled;
};

std::vector<Call> calls_in(const std::string& code) {
  std::vector<Call> calls;
  for (std::size_t at = code.find("say("); at != std::string::npos;
       at = code.find("say(", at + 1)) {
    if (at > 0 && (std::isalnum(static_cast<unsigned char>(code[at - 1])) || code[at - 1] == '_'))
      continue;
    int depth = 0;
    std::size_t end = at + 3;
    do {
      if (code[end] == '(') ++depth;
      if (code[end] == ')') --depth;
      ++end;
    } while (depth > 0 && end < code.size());
    const std::string text = code.substr(at + 4, end - at - 5);
    const std::size_t list = text.find("{{");
    Call call;
    call.keys = literals_in(text.substr(0, list));
    if (list != std::string::npos) {
      static const std::regex filling("\\{\\s*\"([a-z_]+)\",");
      const std::string rest = text.substr(list);
      for (std::sregex_iterator it(rest.begin(), rest.end(), filling), last; it != last; ++it)
        call.filled.insert((*it)[1]);
    }
    calls.push_back(std::move(call));
  }
  return calls;
}

bool has_key(const std::string& key) {
  return std::ranges::binary_search(english_words(), std::string_view(key), {}, &Wording::key);
}

std::string_view text_of(const std::string& key) {
  return std::ranges::lower_bound(english_words(), std::string_view(key), {}, &Wording::key)->text;
}

}  // namespace

TEST_CASE("no words for people stand beside the table of texts", "[architecture][wording]") {
  // What is no text: markup, the alphabet, names of files, a standard's name, keys of the audit.
  const std::map<std::string, std::set<std::string>> not_said{
      {"sheet.cpp", {"ABCDEFGHJKLMNPQRSTUVWXYZ", "ISO 2768-m"}},
      {"section_planes.cpp", {"ABC"}},
      {"step_pages.cpp", {" to ", " step ", " steps "}},
      {"labels.cpp", {" labels"}}};
  const std::set<std::string> no_pages{"svg.cpp", "alphabet.hpp", "audit.cpp"};
  std::vector<fs::path> files =
      sources_of({"exporters/drawings", "exporters/bench", "exporters/labels"});
  for (const char* name :
       {"bar_pages.cpp", "cut_pages.cpp", "picture_words.cpp", "sheet_words.cpp"})
    files.push_back(fs::path(RIBBAY_SOURCE_DIR) / "exporters/cutplans/src" / name);
  REQUIRE(files.size() > 60);
  for (const fs::path& file : files) {
    const std::string name = file.filename().string();
    if (no_pages.contains(name)) continue;
    CAPTURE(file);
    const auto allowed = not_said.find(name);
    for (const std::string& literal : literals_in(code_of(file))) {
      if (!is_worded(literal) || has_key(literal)) continue;
      if (allowed != not_said.end() && allowed->second.contains(literal)) continue;
      FAIL_CHECK("words beside the table: \"" << literal << "\"");
    }
  }
}

TEST_CASE(
    "every text that is asked for stands in the table with the places that are filled, and "
    "every text is asked for",
    "[architecture][wording]") {
  std::set<std::string> literals;
  std::size_t calls = 0;
  for (const fs::path& file : sources_of({"modeler", "exporters"})) {
    if (file.filename() == "words_english.cpp" || file.filename() == "wording.cpp") continue;
    CAPTURE(file);
    const std::string code = code_of(file);
    for (const std::string& literal : literals_in(code)) literals.insert(literal);
    if (!speaks(file)) continue;
    for (const Call& call : calls_in(code)) {
      std::set<std::string> places;
      bool whole = !call.keys.empty();
      for (const std::string& key : call.keys) {
        CAPTURE(key);
        if (key.ends_with('.')) {  // the rest is told by what is spoken of
          whole = false;
          continue;
        }
        CHECK(has_key(key));
        if (!has_key(key)) continue;
        for (const std::string& place : places_of(text_of(key))) places.insert(place);
      }
      if (!whole) continue;
      ++calls;
      CAPTURE(call.keys.front());
      CHECK(std::ranges::includes(call.filled, places));
    }
  }
  CHECK(calls > 200);
  for (const Wording& wording : english_words()) {
    const std::string key(wording.key);
    CAPTURE(key);
    const std::size_t dot = key.find('.');
    const bool in_parts = dot != std::string::npos && literals.contains(key.substr(0, dot + 1)) &&
                          literals.contains(key.substr(dot + 1));
    CHECK((literals.contains(key) || in_parts));
  }
}
