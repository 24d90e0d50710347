#pragma once

#include "base/result.hpp"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace ribbay {

struct Entry;

/// A value of a parameter file with the place it was written. `earlier` holds the places of values
/// that this one replaced (an including file over an included one, --set over both), newest first.
struct Node {
  using Array = std::vector<Node>;
  using Table = std::vector<Entry>;  ///< in file order
  struct Date {
    std::string text;  ///< ISO 8601, "2026-11-24"
    friend bool operator==(const Date&, const Date&) = default;
  };
  std::variant<std::monostate, bool, std::int64_t, double, std::string, Date, Array, Table> value;
  Place place;
  std::vector<Place> earlier;

  const Table* table() const { return std::get_if<Table>(&value); }
  const Array* array() const { return std::get_if<Array>(&value); }
  const std::string* text() const { return std::get_if<std::string>(&value); }
  /// The entry named `key` of a table, or nullptr.
  const Node* find(std::string_view key) const;
  /// "a table", "a string", "an integer", ... for messages.
  std::string_view kind_name() const;
};

struct Entry {
  std::string key;
  Place key_place;
  Node value;
};

/// A file that went into a document, as read.
struct InputFile {
  std::string path;
  std::string bytes;
};

/// That a table [X.NAME] says `based_on = "OTHER"`.
struct BasedOn {
  std::string table;  ///< "module.galley_right"
  std::string base;   ///< "module.galley_left"
  Place place;        ///< of the text that names the base
};

/// A parameter file with its includes merged: one tree, every node with its place.
struct Document {
  Node root;
  std::vector<InputFile> inputs;
  std::vector<BasedOn> based_on;  ///< by table
};

/// What to say of an entry of `around` that only the path of a --set has made: nothing in the files
/// has its name. Nullopt for every other entry. `path` is that of `around`, "module.rack.columns".
std::optional<Finding> made_by_set(const Entry& entry, const Node& around, const std::string& path);

/// Reads a file's bytes; fails with "input.no_file", "input.folder", "input.not_readable" or
/// "input.too_large".
using ReadFile = std::function<Result<std::string>(const std::string& path)>;
Result<std::string> read_file(const std::string& path);

/// `path` as written at `written_at`, seen from where the program runs: relative paths start at the
/// folder of the file that names them.
std::string path_beside(const Place& written_at, const std::string& path);

/// The newest `format` of parameter files that this program reads.
inline constexpr int kInputFormat = 1;

/// Stated limits of the reader: more than this is an error, never a hang.
struct InputLimits {
  std::size_t file_bytes = 8U << 20U;
  std::size_t files = 200;
  std::size_t include_depth = 20;
  std::size_t nodes = 200'000;
  std::size_t nesting = 40;
  std::size_t string_bytes = 4096;
};

/// Reads `path`, its `include = [...]` files (paths relative to the file that names them) and
/// merges them: the including file wins, tables merge, arrays and single values replace, `remove =
/// ["name"]` in a table deletes entries that came from an included file. Then applies `overrides`,
/// each "dotted.path=value" (place: file "--set", the line counts the overrides). The value is a
/// TOML value if it reads as one, else a text without quotes: `galley.depth=520 mm`. A path whose
/// first word is no top-level table but an entry of exactly one of them means that entry:
/// `galley.depth` is `module.galley.depth`, `lining` is `values.lining`. Every syntax, include and
/// override error is reported, with its place. `format`, where a file has it, must be known.
///
/// At last, a table [X.NAME] that says `based_on = "OTHER"` gets the content of [X.OTHER] with its
/// own laid over it by the same rules, `remove` included; `when` is not inherited. Expressions are
/// computed after that, so that `self` is the new table. Bases may have bases; a cycle, a base that
/// is not there and more than `limits.nodes` values in all are errors. `include`, `remove` and
/// `based_on` do not appear in the result.
Built<Document> load_document(const std::string& path,
                              const std::vector<std::string>& overrides = {},
                              const ReadFile& read = read_file, const InputLimits& limits = {});

}  // namespace ribbay
