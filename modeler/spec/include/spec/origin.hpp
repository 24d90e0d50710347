#pragma once

#include "base/finding.hpp"
#include "spec/dimension.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// Where a value comes from, and through which expression: one node of a tree whose leaves are
/// numbers in files, defaults and answers of the van.
struct Origin {
  static constexpr std::size_t kMostNodes = 300;  ///< of a whole tree
  static constexpr std::size_t kDeepest = 30;     ///< levels below the root
  enum class Kind {
    written,   ///< stands in a file or on the command line
    fallback,  ///< the default of its field
    answered   ///< computed by the program: a side of a module, a fact of the van, a question to it
  };
  /// One value of a list, or one that is no number.
  struct Item {
    std::string text;                  ///< "rear", "true", "1 share"; empty: `quantity` holds it
    std::optional<Quantity> quantity;  ///< in canonical units
  };
  std::string path;  ///< "module.rack.width", "values.lining", "vehicle.floor_width"
  Kind kind = Kind::written;
  std::string written;  ///< the text as it stands in the file, or the default; empty when answered
  Place place;          ///< of the value; its file is empty when nobody wrote it
  std::string
      inherited_from;  ///< "module.rack": it stands in that table, and `path` is based on it
  std::vector<Place> earlier;     ///< what this one replaced, newest first
  std::optional<Quantity> value;  ///< in canonical units; nullopt: no number, or it failed
  std::vector<Item> answer;       ///< a value that is no single number; empty for a table
  std::vector<Quantity> arguments;  ///< of a question to the van; `path` has them in mm
  std::vector<Origin> uses;       ///< what its expression names, in order of appearance (a question
                             ///< after its arguments), each once; of a table its written fields
  bool shortened = false;  ///< `uses` left out: they stand nearer to the root, or at a limit below
};

}  // namespace ribbay
