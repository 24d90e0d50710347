#pragma once

#include "spec/document.hpp"
#include "spec/schema.hpp"

#include <map>
#include <optional>
#include <string>
#include <utility>

/// Modules that are made several times: each copy becomes a module of its own before anything is
/// computed.
namespace ribbay::detail {

/// Stated limits: copies of one module, and modules that repetition makes in a project. The values
/// of all copies together stay below InputLimits::nodes.
inline constexpr int kMostCopies = 100;
inline constexpr int kMostRepeated = 1000;

/// The field `repeat` of a module.
Field repeat_field();

struct Copy {
  std::string of;  ///< the module that is repeated
  int index = 1;   ///< from 1
};

struct Repeats {
  std::optional<Document> expanded;    ///< the project with its copies; nullopt: nothing repeats
  std::map<std::string, int> counts;   ///< of the modules that are repeated
  std::map<std::string, Copy> copies;  ///< by their names
  /// Modules whose repetition failed. Their fields are checked, and nothing is placed.
  std::map<std::string, Finding> failed;
};

/// Writes out the repetitions of a project. A count that cannot be computed before anything is
/// placed, a name that is taken and too many copies are failures.
Repeats expand_repeats(const Document& project);

/// Leaves out what copies report alike: one fault of the file is told once.
void tell_once(Findings& findings, const std::map<std::string, Copy>& copies);

}  // namespace ribbay::detail
