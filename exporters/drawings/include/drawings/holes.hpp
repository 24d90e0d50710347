#pragma once

#include "layout/layout.hpp"

#include <optional>
#include <string>
#include <vector>

/// Drilled holes in the words of a drawing.
namespace ribbay {

std::string word(CutRole role);

/// "Ø7 through", "M8 ↧ 25", "Ø5 ↧ 12".
std::string hole_text(const Bore& bore, LengthStyle show);
std::string depth_text(const Bore& bore, LengthStyle show);
/// "Ø7" or "M8".
std::string diameter_text(const Bore& bore, LengthStyle show);

/// Drilled alike: same size, depth, thread and purpose.
bool same_drill(const Bore& a, const Bore& b);

/// A bore with the wider one around its mouth that takes the head of what goes in. A bore right
/// through starts where its mouth is.
struct Drilling {
  Bore bore;
  std::optional<Bore> sunk{};
};

/// In the order given; of bores for one purpose on one axis the wider, shallower one is the other's
/// mouth.
std::vector<Drilling> drillings(const std::vector<Bore>& bores);

bool same_drill(const Drilling& a, const Drilling& b);

/// Its mouth takes the cone of a screw's head.
bool is_countersunk(const Drilling& hole);

/// "Ø4 through", "Ø4.5 through, countersunk Ø8", "Ø9 through, counterbored Ø18 ↧ 6".
std::string hole_text(const Drilling& hole, LengthStyle show);

/// The column that says the mouths of holes in a table: its heading, and its cell for a hole.
struct MouthColumn {
  explicit MouthColumn(const std::vector<Drilling>& holes);

  bool wanted() const { return any_; }
  std::string heading() const;
  std::string cell(const Drilling& hole, LengthStyle show) const;

 private:
  bool any_ = false;
  bool bored_ = false;  ///< not all are countersunk, so depths are said
};

}  // namespace ribbay
