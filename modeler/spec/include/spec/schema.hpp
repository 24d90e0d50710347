#pragma once

#include "spec/dimension.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ribbay {

struct Schema;
using SchemaPtr = std::shared_ptr<const Schema>;

enum class FieldKind {
  quantity,   ///< a number with unit or an expression
  count,      ///< a whole number
  flag,       ///< true or false
  text,       ///< free text
  choice,     ///< one of `choices`
  reference,  ///< the name of a catalogue entry of kind `refers_to` ("profile", "sheet", ...)
  path,  ///< a file, written relative to the file that names it; read as path_beside() gives it
  date,  ///< a TOML date
  quantities,  ///< a list of quantities; here, and in sizes and texts, a single value is a list of
               ///< one
  sizes,       ///< a list of quantities or "n share(s)" of what is left
  texts,       ///< a list of texts, each one of `choices` when given
  vector,      ///< a list of 2 or 3 quantities (`least`..`most` say which)
  table,       ///< a table with the fields of `inner`
  keyed,       ///< a table of named tables, each with the fields of `inner`
  list         ///< an array of tables, each with the fields of `inner`
};

/// No length may be more than 100 m either way, whatever its field says.
///
/// One field of a table: the only place where its name, unit, limits, default and meaning are
/// written. Validation, `ribbay explain` and the reference all read it.
struct Field {
  std::string name;
  FieldKind kind = FieldKind::quantity;
  std::string meaning;       ///< one sentence for the builder
  Dimension dimension = {};  ///< quantity, quantities, sizes, vector
  bool required = false;
  std::string fallback;            ///< default as it would be written in a file; empty: none
  std::optional<double> above;     ///< must be greater, canonical unit
  std::optional<double> at_least;  ///< must not be smaller, canonical unit
  std::optional<double> at_most;   ///< must not be larger, canonical unit
  std::vector<std::string> choices;
  std::string refers_to;
  bool conditional = false;  ///< flag: a condition may stand there too, "winter and tank > 40 l"
  SchemaPtr inner;
  std::size_t least = 0;    ///< fewest items of a list or keyed table
  std::size_t most = 1000;  ///< most items
};

/// The fields of a table.
struct Schema {
  std::string name;
  std::string meaning;
  std::vector<Field> fields;
  const Field* find(std::string_view field) const;
};

/// One line on what may stand in the field: "length in mm, more than 0, default 18 mm". For
/// `explain`, the reference and messages.
std::string describe(const Field& field);
/// Its parts: what is written there ("length in mm", "one of left, right"), and within which limits
/// ("1 to 50 items, more than 0 mm"); the limits may be empty.
std::string describe_type(const Field& field);
std::string describe_limits(const Field& field);

}  // namespace ribbay
