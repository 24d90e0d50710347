#include "spec/document.hpp"

#include "base/text.hpp"
#include "merger.hpp"
#include "reuse.hpp"
#include "toml_text.hpp"
#include "utf8.hpp"
#include "words.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdio>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>

namespace ribbay {

namespace fs = std::filesystem;

const Node* Node::find(std::string_view key) const {
  const Table* entries = table();
  if (entries == nullptr) return nullptr;
  const auto found = std::ranges::find(*entries, key, &Entry::key);
  return found == entries->end() ? nullptr : &found->value;
}

std::string_view Node::kind_name() const {
  constexpr std::array<std::string_view, 8> names = {"nothing",  "true or false", "a whole number",
                                                     "a number", "a text",        "a date",
                                                     "a list",   "a table"};
  return names.at(value.index());
}

std::string path_beside(const Place& written_at, const std::string& path) {
  const fs::path folder = fs::path(written_at.file).parent_path();
  return (folder / path).lexically_normal().generic_string();
}

std::optional<Finding> made_by_set(const Entry& entry, const Node& around,
                                   const std::string& path) {
  const auto is_set = [](const Place& place) { return place.file == "--set"; };
  // A name inside the value that is set stands further right.
  const bool in_path = is_set(entry.key_place) && entry.key_place.column == 1;
  if (!in_path || !std::ranges::all_of(entry.value.earlier, is_set)) return std::nullopt;
  Finding finding = input_error("input.set_unknown", entry.key_place);
  finding.subjects = {path + "." + entry.key};
  std::vector<std::string> others;
  for (const Entry& other : *around.table()) {
    if (&other != &entry) others.push_back(other.key);
  }
  const std::string near = nearest(entry.key, others);
  if (!near.empty()) finding.with("nearest", near);
  return finding;
}

namespace {

/// Endings of files that hold a scanned surface.
bool is_scan(const fs::path& path) {
  const std::string ending = path.extension().string();
  return ending == ".glb" || ending == ".obj" || ending == ".ply" || ending == ".stl";
}

/// The files beside `path` that could be meant by it: scans for a scan, else parameter files.
std::vector<std::string> files_beside(const fs::path& path) {
  std::vector<std::string> names;
  std::error_code error;
  const fs::path folder = path.parent_path();
  fs::directory_iterator entries(folder.empty() ? fs::path(".") : folder, error);
  for (; !error && entries != fs::directory_iterator() && names.size() < 1000;
       entries.increment(error)) {
    const fs::path& other = entries->path();
    const fs::path ending = fs::path(path).extension();
    const bool alike = is_scan(path)                        ? is_scan(other)
                       : ending.empty() || ending == ".toml" ? other.extension() == ".toml"
                                                             : other.extension() == ending;
    std::error_code none;
    if (alike && fs::is_regular_file(other, none)) {
      names.push_back(other.filename().generic_string());
    }
  }
  std::ranges::sort(names);
  return names;
}

/// What to do about a file that is not there.
std::string another_file(const fs::path& path) {
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  std::error_code none;
  if (!fs::is_directory(folder, none))
    return "check its path: there is no folder " + folder.generic_string();
  const std::vector<std::string> beside = files_beside(path);
  if (beside.empty()) {
    const std::string ending = path.extension().string();
    return "check its path: no " + (ending.empty() ? ".toml" : ending) + " file is in " +
           (folder == "." ? "this folder" : folder.generic_string());
  }
  const std::string near = nearest(path.filename().generic_string(), beside);
  return "name a file that is there: " + (near.empty() ? detail::short_list(beside) : near);
}

Findings no_such_file(const std::string& path) {
  Finding finding = input_error("input.no_file", {path, 0, 0, {}});
  finding.subjects = {path};
  return {std::move(finding).with("mend", another_file(path))};
}

Findings about_file(std::string code, const std::string& path) {
  Finding finding = input_error(std::move(code), {path, 0, 0, {}});
  finding.subjects = {path};
  return {finding};
}

Findings too_large(const std::string& path, std::size_t limit) {
  Findings findings = about_file("input.too_large", path);
  findings.front().with("limit", static_cast<double>(limit), Unit::count);
  return findings;
}

}  // namespace

namespace {

/// Scans and other meshes are larger than anything written by hand.
std::size_t largest_file(const std::string& path) {
  constexpr std::size_t kLargestMesh = 256U << 20U;
  return is_scan(path) ? kLargestMesh : InputLimits{}.file_bytes;
}

}  // namespace

Result<std::string> read_file(const std::string& path) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (status.type() == fs::file_type::not_found) return fail(no_such_file(path));
  if (status.type() == fs::file_type::directory) return fail(about_file("input.folder", path));
  // Only regular files: a device or a pipe may never end.
  if (error || status.type() != fs::file_type::regular) {
    return fail(about_file("input.not_readable", path));
  }
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(path.c_str(), "rb"),
                                                             &std::fclose);
  if (file == nullptr) return fail(about_file("input.not_readable", path));
  const std::size_t limit = largest_file(path);
  std::string bytes;
  std::array<char, 65536> block{};
  while (const std::size_t count = std::fread(block.data(), 1, block.size(), file.get())) {
    bytes.append(block.data(), count);
    if (bytes.size() > limit) return fail(too_large(path, limit));
  }
  if (std::ferror(file.get()) != 0) return fail(about_file("input.not_readable", path));
  return bytes;
}

namespace {

using detail::Merger;

class Loader {
 public:
  Loader(const ReadFile& read, const InputLimits& limits) : read_(read), limits_(limits) {}

  /// The file with its includes beneath it; empty when it could not be read.
  Node::Table load(const std::string& path, const Place* included_at) {
    if (const auto known = loaded_.find(path); known != loaded_.end()) return known->second;
    chain_.push_back(path);
    Node::Table merged;
    if (std::optional<Node> own = read_one(path, included_at)) {
      for (const Node& include : includes_of(*own)) add_include(merged, path, include);
      auto& entries = std::get<Node::Table>(own->value);
      std::erase_if(entries, [](const Entry& e) { return e.key == "include"; });
      Merger(findings).merge_files(merged, std::move(entries));
    }
    chain_.pop_back();
    if (included_at != nullptr) loaded_.emplace(path, merged);
    return merged;
  }

  Findings findings;
  std::vector<InputFile> inputs;

 private:
  void report(std::string code, const Place& place, std::size_t limit) {
    findings.push_back(
        input_error(std::move(code), place).with("limit", static_cast<double>(limit), Unit::count));
  }

  std::optional<Node> read_one(const std::string& path, const Place* included_at) {
    Result<std::string> bytes = read_(path);
    if (bytes && bytes->size() > limits_.file_bytes)
      bytes = fail(too_large(path, limits_.file_bytes));
    if (!bytes) {
      for (Finding& finding : bytes.error()) {
        if (included_at != nullptr) finding.place = *included_at;
        findings.push_back(std::move(finding));
      }
      return std::nullopt;
    }
    InputLimits rest = limits_;
    rest.nodes -= std::min(nodes_, rest.nodes);
    Result<Node> root = detail::read_toml(*bytes, path, rest);
    inputs.push_back({path, std::move(*bytes)});
    if (!root) {
      findings.insert(findings.end(), root.error().begin(), root.error().end());
      return std::nullopt;
    }
    nodes_ += detail::count_nodes(*root);
    check_format(*root);
    return std::move(*root);
  }

  void check_format(const Node& root) {
    const Node* format = root.find("format");
    if (format == nullptr) return;
    const auto* number = std::get_if<std::int64_t>(&format->value);
    if (number == nullptr || *number < 1) {
      findings.push_back(input_error("input.wrong_format", format->place));
    } else if (*number > kInputFormat) {
      findings.push_back(input_error("input.newer_format", format->place)
                             .with("format", static_cast<double>(*number), Unit::count)
                             .with("known", static_cast<double>(kInputFormat), Unit::count));
    }
  }

  Node::Array includes_of(const Node& root) {
    const Node* include = root.find("include");
    if (include == nullptr) return {};
    if (include->array() == nullptr) {
      wrong_include(*include);
      return {};
    }
    return *include->array();
  }

  void wrong_include(const Node& found) {
    findings.push_back(input_error("input.wrong_include", found.place)
                           .with("found", std::string(found.kind_name())));
  }

  void add_include(Node::Table& merged, const std::string& from, const Node& include) {
    if (include.text() == nullptr || include.text()->empty()) return wrong_include(include);
    const std::string path = path_beside({from, 0, 0, {}}, *include.text());
    if (const auto first = std::ranges::find(chain_, path); first != chain_.end()) {
      std::vector<std::string> cycle(first, chain_.end());
      cycle.push_back(path);
      findings.push_back(
          input_error("input.include_cycle", include.place).with("path", join(cycle, " -> ")));
      return;
    }
    if (chain_.size() > limits_.include_depth) {
      return report("input.includes_too_deep", include.place, limits_.include_depth);
    }
    if (++includes_ >= limits_.files) {
      if (includes_ == limits_.files) report("input.too_many_files", include.place, limits_.files);
      return;
    }
    Merger(findings).merge_files(merged, load(path, &include.place));
  }

  const ReadFile& read_;
  const InputLimits& limits_;
  std::vector<std::string> chain_;  ///< files being read, outermost first
  std::map<std::string, Node::Table> loaded_;
  std::size_t nodes_ = 0;
  std::size_t includes_ = 0;
};

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

bool is_bare_key(std::string_view key) {
  return !key.empty() && std::ranges::all_of(key, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
}

/// Takes the "[2]" off the end of a key: which entry of a list is meant, counted from 1. Nullopt
/// without one.
std::optional<std::size_t> take_item(std::string& key) {
  const std::size_t open = key.find('[');
  if (open == std::string::npos || !key.ends_with(']')) return std::nullopt;
  const std::string number = key.substr(open + 1, key.size() - open - 2);
  std::size_t item = 0;
  const auto [end, fault] = std::from_chars(number.data(), number.data() + number.size(), item);
  if (fault != std::errc{} || end != number.data() + number.size() || item == 0) return std::nullopt;
  key.resize(open);
  return item;
}

/// Lays values over a document: of "rack.depth=560mm", or of one entry of a list,
/// "rack.levels[2]=430mm".
class Overrider {
 public:
  Overrider(Node& root, const InputLimits& limits, Findings& findings)
      : root_(root), limits_(limits), findings_(findings) {}

  void apply(std::string_view text, int ordinal) {
    const Place whole{"--set", ordinal, 1, detail::shown(text)};
    if (detail::first_bad_utf8(text) != std::string_view::npos) {
      findings_.push_back(input_error("input.not_utf8", {"--set", ordinal, 1, {}}));
      return;
    }
    const std::size_t sign = text.find('=');
    const std::string_view value =
        sign == std::string_view::npos ? std::string_view() : trimmed(text.substr(sign + 1));
    std::vector<std::string> keys = split(trimmed(text.substr(0, sign)));
    const bool too_long = text.size() > limits_.string_bytes || keys.size() > limits_.nesting;
    const auto item = keys.empty() ? std::nullopt : take_item(keys.back());
    if (value.empty() || too_long || !std::ranges::all_of(keys, is_bare_key)) {
      findings_.push_back(input_error("input.bad_set", whole));
      return;
    }
    if (!complete(keys, whole) || !passes_tables(keys, whole)) return;
    Place place = whole;
    place.column += static_cast<int>(detail::count_characters(
        text.substr(0, static_cast<std::size_t>(value.data() - text.data()))));
    if (auto fault = detail::fault_of_value(value, place, limits_)) {
      findings_.push_back(std::move(*fault));
      return;
    }
    Node node = detail::read_value(value, place, limits_);
    if (item && !put_into_list(keys, *item, whole, node)) return;
    for (std::size_t i = keys.size(); i-- > 0;) {
      Node outer;
      outer.place = whole;
      outer.value = Node::Table{Entry{keys[i], whole, std::move(node)}};
      node = std::move(outer);
    }
    auto& entries = std::get<Node::Table>(root_.value);
    Merger(findings_).merge_files(entries, std::move(std::get<Node::Table>(node.value)));
  }

 private:
  /// `rack.depth` stands for `module.rack.depth` when only one top-level table has a `rack`.
  bool complete(std::vector<std::string>& keys, const Place& place) {
    if (root_.find(keys.front()) != nullptr) return true;
    std::vector<std::string> homes;
    for (const Entry& entry : *root_.table()) {
      if (entry.value.find(keys.front()) != nullptr) homes.push_back(entry.key);
    }
    if (homes.size() > 1) {
      Finding finding = input_error("input.set_ambiguous", place);
      finding.subjects = {keys.front()};
      for (std::string& home : homes) home += "." + keys.front();
      findings_.push_back(std::move(finding).with("candidates", join(homes, ", ")));
      return false;
    }
    if (homes.size() == 1) keys.insert(keys.begin(), homes.front());
    return true;
  }

  bool passes_tables(const std::vector<std::string>& keys, const Place& place) {
    const Node* node = &root_;
    std::string path;
    for (std::size_t i = 0; i + 1 < keys.size() && node != nullptr; ++i) {
      node = node->find(keys[i]);
      path += (i == 0 ? "" : ".") + keys[i];
      if (node != nullptr && node->table() == nullptr) {
        Finding finding = input_error("input.set_not_a_table", place);
        finding.subjects = {path};
        findings_.push_back(std::move(finding).with("found", std::string(node->kind_name())));
        return false;
      }
    }
    return true;
  }

  /// Makes the list at `keys` with its entry `item` replaced by `node`.
  bool put_into_list(const std::vector<std::string>& keys, std::size_t item, const Place& place,
                     Node& node) {
    const Node* list = &root_;
    for (const std::string& key : keys) list = list != nullptr ? list->find(key) : nullptr;
    const Node::Array* entries = list != nullptr ? list->array() : nullptr;
    if (entries == nullptr || item > entries->size()) {
      Finding finding = input_error("input.set_no_entry", place);
      finding.subjects = {join(keys, ".")};
      const double count = entries != nullptr ? static_cast<double>(entries->size()) : 0.0;
      findings_.push_back(std::move(finding)
                              .with("entry", static_cast<double>(item), Unit::count)
                              .with("count", count, Unit::count));
      return false;
    }
    Node::Array changed = *entries;
    changed[item - 1] = std::move(node);
    node = {};
    node.place = place;
    node.value = std::move(changed);
    return true;
  }

  Node& root_;
  const InputLimits& limits_;
  Findings& findings_;
};

}  // namespace

Built<Document> load_document(const std::string& path, const std::vector<std::string>& overrides,
                              const ReadFile& read, const InputLimits& limits) {
  const std::string start = fs::path(path).lexically_normal().generic_string();
  Loader loader(read, limits);
  Built<Document> result;
  result.value.root.place = {start, 0, 0, {}};
  result.value.root.value = loader.load(start, nullptr);
  result.value.inputs = std::move(loader.inputs);
  result.findings = std::move(loader.findings);
  Overrider overrider(result.value.root, limits, result.findings);
  int ordinal = 0;
  for (const std::string& text : overrides) overrider.apply(text, ++ordinal);
  detail::resolve_reuse(result.value, limits, result.findings);
  return result;
}

}  // namespace ribbay
