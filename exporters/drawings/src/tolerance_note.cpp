#include "drawings/tolerance_note.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "base/wording.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

double general_tolerance(double size) {
  struct Row {
    double to, off;
  };
  constexpr double least = 0.5;
  constexpr Row rows[] = {{6, 0.1},    {30, 0.2},   {120, 0.3}, {400, 0.5},
                          {1000, 0.8}, {2000, 1.2}, {4000, 2.0}};
  if (size < least) return 0.0;
  const auto row = std::ranges::find_if(rows, [&](const Row& r) { return size <= r.to + kSame; });
  return row == std::end(rows) ? 0.0 : row->off;
}

std::string tolerance_note(const Layout& layout, const Part& part) {
  const auto show = [&](double mm) { return value_text(mm, Unit::mm, layout.project.show); };
  const Tolerances& own = layout.tolerances;
  const bool folded = part.kind == PartKind::folded;
  const double off = folded ? own.folding : own.saw;
  if (off <= 0.0) return {};
  if (part.kind == PartKind::member) return say("note.length_off", {{"off", show(off)}});
  const double general = general_tolerance(std::max(part.stock.length, part.stock.width));
  if (std::abs(off - general) < kSame) return {};
  return say(folded ? "note.folded_off" : "note.sawn_off",
             {{"off", show(off)}, {"general", show(general)}});
}

}  // namespace ribbay
