#pragma once

#include "drawings/drawings.hpp"
#include "drawings/steps.hpp"
#include "layout/project.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

/// Every project that comes with the program, drawn once for all tests that look at the drawings.
namespace projects {

struct Drawn {
  std::string file;
  ribbay::Layout layout;
  std::vector<ribbay::SetPage> pages;
};

/// The project files of a folder of params/.
inline std::vector<std::string> files_in(const std::string& folder) {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(RIBBAY_SOURCE_DIR "/params/" + folder)) {
    // What projects include, as the demo's equipment, is no project.
    if (entry.path().extension() == ".toml" && entry.path().stem() != "equipment")
      files.push_back(entry.path().string());
  }
  std::ranges::sort(files);
  return files;
}

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
    std::vector<std::string> files = files_in("marsh");
    for (const std::string& file : files_in("examples")) files.push_back(file);
    for (const std::string& file : files) {
      const auto inputs = ribbay::read_inputs(file);
      if (!inputs.value) throw std::runtime_error(file + " cannot be read");
      auto layout = ribbay::lay_out(*inputs.value);
      if (!layout.value) throw std::runtime_error(file + " cannot be laid out");
      Drawn one{file, std::move(*layout.value), {}};
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
