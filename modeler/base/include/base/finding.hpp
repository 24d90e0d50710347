#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/vec.hpp"

namespace ribbay {

enum class Severity { note, warning, error };

/// Outcome of a check. Not proven is shown, and silence is never a pass.
enum class Status { pass, fail, not_proven };

/// A spot in a parameter file. Lines and columns count from 1, columns in Unicode characters; line 0 means
/// the whole file. `text` is what stands there, as written.
struct Place {
  std::string file;
  int line = 0;
  int column = 0;
  std::string text;
  friend bool operator==(const Place&, const Place&) = default;
};

/// What a number in a finding measures; numbers are stored in the unit named here.
enum class Unit { none, count, mm, mm2, mm3, degree, kg, newton, newton_mm, mpa, percent };

struct Argument {
  std::string name;
  std::variant<std::string, double> value;
  Unit unit = Unit::none;
  friend bool operator==(const Argument&, const Argument&) = default;
};

/// One thing to tell the builder, from the reader of the files or from a check. Holds facts only: the words
/// come from the table in messages.hpp, so that another language is another table.
struct Finding {
  std::string code;                   ///< stable and greppable: "clearance.clash"
  Severity severity = Severity::error;
  Status status = Status::fail;
  std::vector<std::string> subjects;  ///< part ids, module names or parameter paths; most concerned first
  std::vector<Argument> arguments;    ///< named facts that the message uses ("measured", "required", ...)
  std::optional<Place> place;         ///< where in the parameter files
  std::optional<Vec3> at;             ///< where in the van, mm in van axes
  std::string source;                 ///< standard or "common practice, no source"; may be empty
  friend bool operator==(const Finding&, const Finding&) = default;

  Finding& with(std::string name, std::string value) &;
  Finding& with(std::string name, double value, Unit unit) &;
  Finding&& with(std::string name, std::string value) &&;
  Finding&& with(std::string name, double value, Unit unit) &&;
  const Argument* argument(std::string_view name) const;
};

using Findings = std::vector<Finding>;

/// A finding about the input at `place`: severity error, status fail.
Finding input_error(std::string code, Place place);

bool has_errors(const Findings& findings);

/// Stable order for output: by severity (errors first), then place, code, subjects and arguments.
void sort_findings(Findings& findings);

}  // namespace ribbay
