#pragma once

#include "drawings/drawings.hpp"
#include "drawings/steps.hpp"
#include "projects.hpp"

#include <algorithm>
#include <iterator>
#include <string>
#include <vector>

/// Every project that comes with the program, drawn once for all tests that look at the drawings.
namespace projects {

struct Drawn {
  std::string file;
  ribbay::Layout layout;
  std::vector<ribbay::SetPage> pages;
};

/// Gaps as a judgement would hand them over, made up so that the sheet of the van's sides has some:
/// one above the other at every module's ends.
inline std::vector<ribbay::CalledGap> some_gaps(const ribbay::Layout& layout) {
  std::vector<ribbay::CalledGap> gaps;
  for (const ribbay::Module& m : layout.modules) {
    if (gaps.size() >= 12) break;
    gaps.push_back({m.name + "/a", "vehicle/wall", 1, 3.2, -0.4,
                    {m.envelope.lo.x, m.envelope.hi.y, m.envelope.centre().z}});
    gaps.push_back({m.name + "/b", "other/part", 0, 12.5, 9.1,
                    {m.envelope.hi.x, m.envelope.lo.y, m.envelope.hi.z}});
  }
  return gaps;
}

inline const std::vector<Drawn>& all() {
  static const std::vector<Drawn> drawn = [] {
    std::vector<Drawn> out;
    for (const std::string& file : ribbay::testing::project_files()) {
      Drawn one{file, ribbay::testing::laid_out_file(file), {}};
      one.pages = ribbay::drawing_set(one.layout, {.gaps = some_gaps(one.layout)});
      std::ranges::move(ribbay::step_pages(one.layout, ribbay::plan_assembly(one.layout)),
                        std::back_inserter(one.pages));
      out.push_back(std::move(one));
    }
    return out;
  }();
  return drawn;
}

}  // namespace projects
