// Faults planted in every kind of module: in each part, in the way of each motion, and the module
// set where it cannot stand. None may pass.
#include "clearance/clearance.hpp"
#include "clearance/sweep.hpp"
#include "kind_samples.hpp"
#include "scenes.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <filesystem>

using namespace ribbay;
using namespace ribbay::testing;
using scenes::box_part;

namespace {

Layout sample_layout(const std::string& text) {
  auto built = lay_out_text(text);
  INFO(words(built.findings));
  REQUIRE(built.value);
  return std::move(*built.value);
}

/// A cube of 3 mm about `at`, a part of another module.
Part seed(Vec3 at) {
  return box_part("zz_seed/cube", at - Vec3{1.5, 1.5, 1.5}, at + Vec3{1.5, 1.5, 1.5});
}

Vec3 middle_of(const ConvexPiece& piece) {
  Vec3 sum;
  for (const Vec3& p : piece.vertices) sum = sum + p;
  return sum * (1.0 / static_cast<double>(piece.vertices.size()));
}

Vec3 inside(const Part& part) {
  const Pieces local = pieces(part.body());
  return middle_of(placed(local[local.size() / 2], part.frame));
}

bool names(const Finding& finding, const std::string& id) {
  return std::ranges::find(finding.subjects, id) != finding.subjects.end();
}

/// A clash that names the seed.
bool clashes(const ClearanceResult& result) {
  return std::ranges::any_of(result.findings, [](const Finding& finding) {
    return finding.code.starts_with("clearance.clash") && names(finding, "zz_seed/cube");
  });
}

/// How many faults were planted, and how many of them passed.
struct Tally {
  int planted = 0;
  int passed = 0;
  void count(bool found, const std::string& what) {
    ++planted;
    if (found) return;
    ++passed;
    FAIL_CHECK("not found: " << what);
  }
};

}  // namespace

TEST_CASE("a fault planted in any part of any kind is found", "[planted][kinds]") {
  Tally tally;
  for (const KindSample& sample : kind_samples()) {
    const Layout sound = sample_layout(sample.text);
    int in_kind = 0;
    for (const Part& part : sound.parts) {
      if (part.kind == PartKind::hardware || ++in_kind > 12) continue;
      Layout layout = sound;
      layout.parts.push_back(seed(inside(part)));
      layout.motions.clear();
      tally.count(clashes(check_clearance(layout)), "a cube in " + part.id + " of " + sample.name);
    }
  }
  WARN("faults planted in parts: " << tally.planted << ", false passes: " << tally.passed);
  CHECK(tally.planted > 100);
}

TEST_CASE("an obstacle planted in the way of any motion of any kind stops it", "[planted][kinds]") {
  Tally tally;
  for (const KindSample& sample : kind_samples()) {
    const Layout sound = sample_layout(sample.text);
    for (const Motion& motion : sound.motions) {
      if (!motion.after.empty()) continue;  // its way begins elsewhere: tests of its own
      for (const double share : {0.3, 0.7}) {
        const Part& mover = *sound.find(motion.parts.front());
        const Vec3 from = middle_of(placed(pieces(mover.body()).front(), mover.frame));
        const double gone = motion.required * share;
        Layout layout = sound;
        layout.parts.push_back(seed(motion.kind == MotionKind::rotation
                                        ? turned(from, {motion.origin, motion.axis}, gone)
                                        : from + motion.axis * gone));
        const ClearanceResult result = check_clearance(layout);
        const auto told = std::ranges::find(result.motions, motion.id, &MotionResult::motion);
        // Stopped by the seed, or the seed stands in what is there already.
        tally.count(told->blocked || clashes(result), motion.id + " of " + sample.name);
      }
    }
  }
  WARN("obstacles planted in motions: " << tally.planted << ", false passes: " << tally.passed);
  CHECK(tally.planted > 20);
}

namespace {

namespace fs = std::filesystem;

/// The examples of the repository, at least one for each kind, by their names.
std::vector<std::pair<std::string, Layout>> examples() {
  std::vector<std::pair<std::string, Layout>> all;
  for (const auto& entry : fs::directory_iterator(RIBBAY_SOURCE_DIR "/params/examples")) {
    if (entry.path().extension() != ".toml") continue;
    const auto inputs = read_inputs(entry.path().string());
    REQUIRE(inputs.value);
    auto layout = lay_out(*inputs.value);
    REQUIRE(layout.value);
    all.emplace_back(entry.path().stem().string(), std::move(*layout.value));
  }
  std::ranges::sort(all, {}, &std::pair<std::string, Layout>::first);
  return all;
}

/// The module that the example is about: "bunk" and "folding_bunk" are about bunks.
const Module& shown(const std::string& example, const Layout& layout) {
  const auto found = std::ranges::find_if(layout.modules, [&](const Module& module) {
    return example == module.kind || example.ends_with("_" + module.kind);
  });
  REQUIRE(found != layout.modules.end());
  return *found;
}

Box bounds_of(const Layout& layout, const std::string& module) {
  Box box;
  for (const Part& part : layout.parts) {
    if (part.module == module && part.kind != PartKind::hardware) box.add(bounds(part));
  }
  return box;
}

/// A finding of this code that names a part of the module.
bool told(const Findings& findings, const std::string& module,
          const std::vector<std::string>& codes) {
  return std::ranges::any_of(findings, [&](const Finding& finding) {
    return std::ranges::find(codes, finding.code) != codes.end() &&
           std::ranges::any_of(finding.subjects,
                               [&](const std::string& id) { return id.starts_with(module + "/"); });
  });
}

Layout with_module_moved(Layout layout, const std::string& module, Vec3 by) {
  for (Part& part : layout.parts) {
    if (part.module == module) part.frame.origin = part.frame.origin + by;
  }
  layout.motions.clear();
  layout.zones.clear();
  layout.beds.clear();
  return layout;
}

/// Moves that bring the box 30 mm out of the room on each of its six sides.
std::vector<Vec3> ways_out(const Box& box, const Vehicle& van) {
  double half = 0.0;
  double roof = 0.0;
  for (const Station& station : van.stations) {
    for (const auto* wall : {&station.left, &station.right}) {
      for (const WallPoint& p : *wall) {
        half = std::max(half, p.half_width);
        roof = std::max(roof, p.z);
      }
    }
  }
  return {{van.x_min() - 30 - box.lo.x, 0, 0},
          {van.x_max() + 30 - box.hi.x, 0, 0},
          {0, half + 30 - box.hi.y, 0},
          {0, -half - 30 - box.lo.y, 0},
          {0, 0, -30 - box.lo.z},
          {0, 0, roof + 30 - box.hi.z}};
}

Layout with(Layout layout, Part part) {
  layout.parts.push_back(std::move(part));
  return layout;
}

}  // namespace

TEST_CASE("a module of any kind that stands where it cannot is found", "[planted][kinds]") {
  Tally tally;
  for (const auto& [kind, sound] : examples()) {
    const std::string module = shown(kind, sound).name;
    const Box box = bounds_of(sound, module);
    CHECK_FALSE(told(check_clearance(sound).findings, module,
                     {"clearance.clash", "clearance.modules", "clearance.outside"}));
    for (const Vec3& by : ways_out(box, *sound.vehicle)) {
      const Findings found = check_clearance(with_module_moved(sound, module, by)).findings;
      tally.count(
          told(found, module, {"clearance.clash", "clearance.modules", "clearance.outside"}),
          kind + " moved by " + std::to_string(by.x) + ", " + std::to_string(by.y) + ", " +
              std::to_string(by.z));
    }
    // Into another one of its kind, a third of its length further on.
    Layout twice = with_module_moved(sound, module, {});
    for (Part part : sound.parts) {
      if (part.module != module || part.kind == PartKind::hardware) continue;
      part.id = "zz_" + part.id;
      part.module = "zz_" + module;
      part.frame.origin.x += box.size().x / 3;
      twice.parts.push_back(std::move(part));
    }
    tally.count(
        told(check_clearance(twice).findings, module, {"clearance.clash", "clearance.modules"}),
        kind + " in another one");
  }
  WARN("modules set where they cannot stand: " << tally.planted
                                               << ", false passes: " << tally.passed);
  CHECK(tally.planted == 7 * 14);
}

TEST_CASE("each check that any module must keep finds its fault in every kind",
          "[planted][kinds]") {
  Tally tally;
  for (const auto& [kind, example] : examples()) {
    const std::string module = shown(kind, example).name;
    Layout sound = with_module_moved(example, module, {});
    const Box box = bounds_of(sound, module);
    const auto plate = [&](double off) {
      return box_part("zz_plate/plate", {box.hi.x + off, box.lo.y, box.lo.z},
                      {box.hi.x + off + 5, box.hi.y, box.hi.z});
    };
    const Part& part = *std::ranges::find_if(
        sound.parts, [&](const Part& each) { return each.module == module && is_made(each.kind); });
    const auto found = [&](const Layout& layout, const char* code) {
      tally.count(told(check_clearance(layout).findings, module, {code}), kind + ": " + code);
    };
    sound.tight = 1.0;
    found(with(sound, plate(0.5)), "clearance.tight");
    Layout gap = with(sound, plate(50));
    gap.gaps.push_back({"zz_plate/gap", "zz_plate", module, 60, {}});
    found(gap, "clearance.gap");
    Layout zone = sound;
    zone.zones.emplace_back();
    zone.zones[0].id = zone.zones[0].owner = "zz_plate";
    zone.zones[0].shape = box_shape({-2, -2, -2}, {2, 2, 2});
    zone.zones[0].frame.origin = inside(part);
    found(zone, "clearance.zone");
    Layout alone = sound;
    alone.parts = {part};
    alone.joints.clear();
    alone.parts[0].hosts.clear();
    const Box its = bounds(part);
    alone.parts[0].frame.origin =
        part.frame.origin + Vec3{0, -(its.lo.y + its.hi.y) / 2, 50 - its.lo.z};
    if (its.size().y < 1500 && its.size().z < 1500) found(alone, "clearance.in_the_air");
  }
  WARN("faults of four checks in every kind: " << tally.planted
                                               << ", false passes: " << tally.passed);
  CHECK(tally.planted >= 4 * 13 - 3);
}
