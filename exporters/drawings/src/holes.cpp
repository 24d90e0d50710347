#include "drawings/holes.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"

#include <cmath>

namespace ribbay {

std::string word(CutRole role) {
  switch (role) {
    case CutRole::cut_out:
      return say("cut.cut_out");
    case CutRole::notch:
      return say("cut.notch");
    case CutRole::dado:
      return say("cut.dado");
    case CutRole::rebate:
      return say("cut.rebate");
    case CutRole::groove:
      return say("cut.groove");
    case CutRole::toe_space:
      return say("cut.toe_space");
  }
  return "";
}

std::string diameter_text(const Bore& bore, LengthStyle show) {
  return bore.thread.empty() ? "Ø" + length_text(bore.diameter, show) : bore.thread;
}

std::string depth_text(const Bore& bore, LengthStyle show) {
  return bore.through ? say("through") : length_text(bore.depth, show);
}

std::string hole_text(const Bore& bore, LengthStyle show) {
  const std::string drill = diameter_text(bore, show);
  return bore.through ? say("hole.through", {{"drill", drill}})
                      : drill + " ↧ " + length_text(bore.depth, show);
}

bool same_drill(const Bore& a, const Bore& b) {
  return std::abs(a.diameter - b.diameter) < kSame && a.through == b.through &&
         (a.through || std::abs(a.depth - b.depth) < kSame) && a.thread == b.thread &&
         a.role == b.role;
}

namespace {

bool is_mouth(const Bore& wide, const Bore& hole) {
  const Vec3 apart = wide.at - hole.at;
  const double along = dot(wide.direction, hole.direction);
  return wide.diameter > hole.diameter + kSame && !wide.through &&
         (hole.through || wide.depth < hole.depth - kSame) && wide.role == hole.role &&
         (hole.through ? std::abs(along) : along) > 1.0 - 1e-6 &&
         length(apart - hole.direction * dot(apart, hole.direction)) < kSame;
}

}  // namespace

std::vector<Drilling> drillings(const std::vector<Bore>& bores) {
  std::vector<Drilling> found;
  std::vector<bool> is_taken(bores.size(), false);
  std::vector<std::optional<std::size_t>> mouths(bores.size());
  for (std::size_t hole = 0; hole < bores.size(); ++hole) {
    for (std::size_t wide = 0; wide < bores.size() && !mouths[hole]; ++wide) {
      if (is_taken[wide] || mouths[wide] || !is_mouth(bores[wide], bores[hole])) continue;
      mouths[hole] = wide;
      is_taken[wide] = true;
    }
  }
  for (std::size_t hole = 0; hole < bores.size(); ++hole) {
    if (is_taken[hole]) continue;
    Drilling drilling{bores[hole], {}};
    if (mouths[hole]) {
      drilling.sunk = bores[*mouths[hole]];
      if (drilling.bore.through) {
        drilling.bore.at = drilling.sunk->at;
        drilling.bore.direction = drilling.sunk->direction;
      }
    }
    found.push_back(drilling);
  }
  return found;
}

bool same_drill(const Drilling& a, const Drilling& b) {
  return same_drill(a.bore, b.bore) && a.sunk.has_value() == b.sunk.has_value() &&
         (!a.sunk || same_drill(*a.sunk, *b.sunk));
}

bool is_countersunk(const Drilling& hole) {
  return hole.sunk && hole.sunk->role == BoreRole::screw;
}

std::string hole_text(const Drilling& hole, LengthStyle show) {
  const std::string drill = hole_text(hole.bore, show);
  if (!hole.sunk) return drill;
  const std::string wide = diameter_text(*hole.sunk, show);
  const std::string mouth =
      is_countersunk(hole) ? say("hole.countersunk", {{"drill", wide}})
                           : say("hole.counterbored",
                                 {{"drill", wide}, {"depth", length_text(hole.sunk->depth, show)}});
  return say("hole.sunk", {{"hole", drill}, {"sunk", mouth}});
}

MouthColumn::MouthColumn(const std::vector<Drilling>& holes) {
  for (const Drilling& hole : holes) {
    any_ |= hole.sunk.has_value();
    bored_ |= hole.sunk && !is_countersunk(hole);
  }
}

std::string MouthColumn::heading() const {
  return say(bored_ ? "column.mouth" : "column.countersink");
}

std::string MouthColumn::cell(const Drilling& hole, LengthStyle show) const {
  if (!hole.sunk) return {};
  const std::string drill = diameter_text(*hole.sunk, show);
  return bored_ ? drill + " ↧ " + length_text(hole.sunk->depth, show) : drill;
}

}  // namespace ribbay
