#pragma once

#include "base/result.hpp"
#include "command_line.hpp"
#include "layout/project.hpp"
#include "app/size_search.hpp"

#include <string>

namespace ribbay::detail {

/// What is to be found, as numbers.
struct SizeOrder {
  std::string path;     ///< of the value, as --set takes it: "module.galley.depth"
  Quantity now;         ///< what it is in the files
  double tick = 0.1;    ///< finest step, in the unit that a bare number has there
  SizeRange range;
  LengthStyle show = LengthStyle::millimetres;

  /// The value as a bare number of its field would say it.
  double bare(Tick value) const;
  /// As --set takes it: "62.5 mm".
  std::string setting(Tick value) const;
  /// For people: "62.5 mm", "1 27/64 in".
  std::string words(Tick value) const;
  std::string words(double bare_value) const;
};

/// Reads value, range and step of the command line against the project. Findings: those of the
/// project, "size.not_a_number", "size.worked_out" (no file says the value), "size.range",
/// "size.too_many" and what is wrong with the quantities.
Result<SizeOrder> read_size_order(const Command& command, const Inputs& inputs);

}  // namespace ribbay::detail
