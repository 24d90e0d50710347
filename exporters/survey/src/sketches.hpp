#pragma once

#include "drawings/drawing.hpp"
#include "survey/blanks.hpp"

#include <string>
#include <string_view>
#include <vector>

/// Sketches of a van of no make, not to scale, with the numbers of the blanks where to measure.
namespace ribbay::detail {

/// Finds the number of a blank by its table and key. Precondition: it is there.
class Numbers {
 public:
  explicit Numbers(const std::vector<BlankTable>& tables) : tables_(tables) {}
  int of(std::string_view table, std::string_view key) const;
  /// The first and the last number of a list: "17-26".
  std::string range(std::string_view table, std::string_view key) const;

 private:
  const BlankField& field(std::string_view table, std::string_view key) const;
  const std::vector<BlankTable>& tables_;
};

// Each draws into `area` and stays inside.
void add_plan_sketch(Drawing& drawing, const Rect& area, const Numbers& numbers, int stations);
void add_side_sketch(Drawing& drawing, const Rect& area, const Numbers& numbers);
void add_section_sketch(Drawing& drawing, const Rect& area, const Numbers& numbers);

}  // namespace ribbay::detail
