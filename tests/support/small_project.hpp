#pragma once

#include "base/messages.hpp"
#include "layout/project.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

/// Projects written in a test: the text of the modules, with the repository's stock and a small
/// straight van.
namespace ribbay::testing {

/// 1600 mm between straight walls, 3000 mm long, 1900 mm high; ribs 30 mm deep on both sides every
/// 500 mm between z = 100 and 1500; joists across every 300 mm, 60 mm wide. Round numbers, so that
/// a test can be checked by hand.
inline const char* kStraightVan = R"(
format = 1
[vehicle]
title = "Straight test van"
heights = [0, 900, 1890, 1900]
surveyed = "skin"
uncertainty = "2 mm"
floor_thickness = "12 mm"
rear_sill = "10 mm"
gross_limit = "3500 kg"
[station.rear]
x = "0 mm"
both = [800, 800, 800, 30]
[station.front]
x = "3000 mm"
both = [800, 800, 800, 30]
[rib.pair]
side = "both"
x = "250 mm"
count = 6
pitch = "500 mm"
width = "60 mm"
depth = "30 mm"
from = "100 mm"
to = "1500 mm"
[joist.cross]
at = "150 mm"
count = 10
pitch = "300 mm"
width = "60 mm"
from = "-780 mm"
to = "780 mm"
)";

/// A rack that is valid as it stands: 1000 wide, 600 deep, 900 high, two bays, facing the rear.
inline const char* kPlainRack = R"(
[module.rack]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = "1000 mm"
depth = "600 mm"
height = "900 mm"
levels = ["0 mm", "400 mm", "860 mm"]
bays = ["1 share", "400 mm"]
foot = "foot_40"
floor_bolt = "m8_40"
place = { rear = "100 mm", between = "walls", on = "floor" }
)";

inline Built<std::optional<Inputs>> inputs_of_text(const std::string& modules,
                                                   const std::vector<std::string>& overrides = {},
                                                   const std::string& van = kStraightVan) {
  const std::string params = std::string(RIBBAY_SOURCE_DIR) + "/params/";
  const std::string project = "format = 1\ninclude = [\"" + params + "stock/aluminium.toml\", \"" +
                              params + "stock/sheets.toml\", \"" + params +
                              "stock/hardware.toml\", \"" + params +
                              "stock/planks.toml\", \"" + params + "stock/finishes.toml\", \"" +
                              params + "stock/fittings.toml\", \"" + params +
                              "stock/joints.toml\", \"" + params + "equipment/equipment.toml\"]\n[project]\nname = \"test\"\nvehicle = "
                              "\"/test/van.toml\"\n" +
                              modules;
  const ReadFile read = [&](const std::string& path) -> Result<std::string> {
    if (path == "/test/project.toml") return project;
    if (path == "/test/van.toml") return van;
    return read_file(path);
  };
  return read_inputs("/test/project.toml", overrides, read);
}

inline Built<std::optional<Layout>> lay_out_text(const std::string& modules,
                                                 const std::vector<std::string>& overrides = {},
                                                 const std::string& van = kStraightVan) {
  auto inputs = inputs_of_text(modules, overrides, van);
  if (!inputs.value) return {std::nullopt, std::move(inputs.findings)};
  auto layout = lay_out(*inputs.value);
  layout.findings.insert(layout.findings.begin(), inputs.findings.begin(), inputs.findings.end());
  return layout;
}

/// The findings in words, for CAPTURE and INFO.
inline std::string words(const Findings& findings) {
  std::string text;
  for (const Finding& f : findings) text += finding_text(f, LengthStyle::millimetres) + "\n";
  return text;
}

inline bool has_code(const Findings& findings, std::string_view code) {
  return std::ranges::any_of(findings, [&](const Finding& f) { return f.code == code; });
}

/// Sizes of a part along the van's axes.
inline Vec3 size_of(const Layout& layout, const std::string& id) {
  const Part* part = layout.find(id);
  return part ? bounds(*part).size() : Vec3{-1, -1, -1};
}

}  // namespace ribbay::testing
