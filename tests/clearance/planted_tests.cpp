// A fault planted in every part and every motion of every kind of module, and one for each check:
// none may pass. And the same scene told otherwise must give the same findings.
#include "clearance/clearance.hpp"
#include "clearance/sweep.hpp"
#include "kind_samples.hpp"
#include "scenes.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <numbers>

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

bool names(const Finding& finding, const std::string& id) {
  return std::ranges::find(finding.subjects, id) != finding.subjects.end();
}

/// A clash that names the seed.
bool clashes(const ClearanceResult& result) {
  return std::ranges::any_of(result.findings, [](const Finding& finding) {
    return finding.code.starts_with("clearance.clash") && names(finding, "zz_seed/cube");
  });
}

}  // namespace

TEST_CASE("a fault planted in any part of any kind is found", "[clearance][planted]") {
  int planted = 0;
  int passed = 0;
  for (const KindSample& sample : kind_samples()) {
    const Layout sound = sample_layout(sample.text);
    int in_kind = 0;
    for (const Part& part : sound.parts) {
      if (part.kind == PartKind::hardware || ++in_kind > 12) continue;
      Layout layout = sound;
      const Pieces local = pieces(part.body());
      layout.parts.push_back(seed(middle_of(placed(local[local.size() / 2], part.frame))));
      layout.motions.clear();
      ++planted;
      if (clashes(check_clearance(layout))) continue;
      ++passed;
      FAIL_CHECK("no clash is found in " << part.id << " of " << sample.name);
    }
  }
  WARN("faults planted in parts: " << planted << ", false passes: " << passed);
  CHECK(planted > 100);
  CHECK(passed == 0);
}

TEST_CASE("an obstacle planted in the way of any motion of any kind stops it",
          "[clearance][planted]") {
  int planted = 0;
  int passed = 0;
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
        ++planted;
        // Stopped by the seed, or the seed stands in what is there already.
        if (told->blocked || clashes(result)) continue;
        ++passed;
        FAIL_CHECK(motion.id << " of " << sample.name << " is not stopped");
      }
    }
  }
  WARN("obstacles planted in motions: " << planted << ", false passes: " << passed);
  CHECK(planted > 20);
  CHECK(passed == 0);
}

namespace {

/// Two boards, a drawer and a door: sound as it stands.
Layout sound_scene() {
  Layout layout = scenes::layout_of({box_part("a/board", {0, 0, 0}, {400, 300, 18}),
                                     box_part("b/board", {0, 0, 100}, {400, 300, 118}),
                                     box_part("c/front", {600, 0, 0}, {618, 300, 200}),
                                     box_part("d/leaf", {1200, 0, 0}, {1218, 400, 200})});
  Motion drawer;
  drawer.id = "c/drawer";
  drawer.parts = {"c/front"};
  drawer.travel = drawer.required = 150;
  Motion door;
  door.id = "d/door";
  door.kind = MotionKind::rotation;
  door.parts = {"d/leaf"};
  door.axis = {0, 0, 1};
  door.origin = {1200, 0, 0};
  door.travel = door.required = std::numbers::pi / 2;
  layout.motions = {drawer, door};
  layout.tight = 3.0;
  return layout;
}

Part& part_of(Layout& layout, const std::string& id) {
  return *std::ranges::find(layout.parts, id, &Part::id);
}

Zone zone_at(Vec3 lo, Vec3 size) {
  Zone zone;
  zone.id = "a/zone";
  zone.shape = box_shape({}, size);
  zone.frame.origin = lo;
  zone.owner = "a";
  return zone;
}

struct Fault {
  const char* code;
  std::function<void(Layout&)> plant;
};

const std::vector<Fault>& faults() {
  static const std::vector<Fault> all{
      {"clearance.clash", [](Layout& l) { part_of(l, "b/board").frame.origin.z = -82.02; }},
      {"clearance.tight", [](Layout& l) { part_of(l, "b/board").frame.origin.z = -80; }},
      {"clearance.gap",
       [](Layout& l) {
         l.gaps.push_back({"a/gap", "a", "b", 82.5, {}});
       }},
      {"clearance.zone",
       [](Layout& l) {
         l.zones.push_back(zone_at({0, 0, 50}, {100, 100, 51}));
       }},
      {"clearance.motion",
       [](Layout& l) {
         l.parts.push_back(box_part("e/post", {760, 0, 0}, {780, 50, 50}));
       }},
      {"clearance.motion",
       [](Layout& l) {
         l.parts.push_back(box_part("e/post", {1000, 250, 0}, {1020, 270, 50}));
       }},
      {"clearance.pair", [](Layout& l) { l.motions[0].travel = l.motions[0].required = 560; }},
      {"clearance.pair_beyond",
       [](Layout& l) {
         l.motions[0].travel = 560;
         l.motions[0].required = 100;
       }},
      {"clearance.motion_held",
       [](Layout& l) {
         l.parts.push_back(box_part("e/post", {700, 0, 0}, {710, 50, 50}));
         l.parts.push_back(box_part("f/flap", {680, 100, 300}, {690, 200, 310}));
         Motion flap;
         flap.id = "f/down";
         flap.parts = {"f/flap"};
         flap.axis = {0, 0, -1};
         flap.travel = flap.required = 250;
         flap.after = "c/drawer";
         l.motions.push_back(flap);
       }},
      {"clearance.not_whole",
       [](Layout& l) {
         Part& board = part_of(l, "a/board");
         Shape shape = *board.shape;
         Region through = shape.prisms[0].prism.section;
         for (Corner& corner : through.outer) corner.at.x = corner.at.x > 200 ? 210 : 200;
         shape.prisms[0].prism.cuts.push_back({through.outer, -1, 19});
         board.shape = std::make_shared<const Shape>(shape);
       }},
      {"clearance.outside",
       [](Layout& l) {
         l.vehicle = scenes::plain_van();
         part_of(l, "a/board").frame.origin.x = 3900;
       }},
      {"clearance.in_the_air", [](Layout& l) { l.vehicle = scenes::plain_van(); }},
  };
  return all;
}

}  // namespace

TEST_CASE("each check finds the fault that is planted for it", "[clearance][planted]") {
  CHECK(check_clearance(sound_scene()).findings.empty());
  int passed = 0;
  for (const Fault& fault : faults()) {
    Layout layout = sound_scene();
    fault.plant(layout);
    std::ranges::sort(layout.parts, {}, &Part::id);
    const ClearanceResult result = check_clearance(layout);
    CAPTURE(fault.code, words(result.findings));
    const bool found = has_code(result.findings, fault.code);
    CHECK(found);
    passed += found ? 0 : 1;
  }
  WARN("planted faults: " << faults().size() << ", false passes: " << passed);
}

namespace {

/// What does not depend on names, order, place or hand.
std::vector<std::string> gist(const ClearanceResult& result) {
  std::vector<std::string> all;
  for (const Finding& finding : result.findings) {
    std::string text = finding.code;
    for (const Argument& argument : finding.arguments) {
      const double* value = std::get_if<double>(&argument.value);
      if (value == nullptr) continue;
      text += " " + argument.name + " " + std::to_string(std::round(*value * 1e3) / 1e3 + 0.0);
    }
    all.push_back(std::move(text));
  }
  std::ranges::sort(all);
  return all;
}

Vec3 across(Vec3 v) {
  return {v.x, -v.y, v.z};
}

/// The image of boxes and motions across the plane y = 0.
Layout mirrored(Layout layout) {
  for (Part& part : layout.parts) {
    const Box box = bounds(part);
    part = box_part(part.id, across({box.lo.x, box.hi.y, box.lo.z}),
                    across({box.hi.x, box.lo.y, box.hi.z}));
  }
  for (Motion& motion : layout.motions) {
    const double hand = motion.kind == MotionKind::rotation ? -1.0 : 1.0;
    motion.axis = across(motion.axis) * hand;
    motion.origin = across(motion.origin);
  }
  for (Zone& zone : layout.zones) {
    const Box box = bounds(zone.shape, zone.frame);
    zone.frame.origin.y = -box.hi.y;
  }
  return layout;
}

Layout shifted(Layout layout, Vec3 by) {
  for (Part& part : layout.parts) part.frame.origin = part.frame.origin + by;
  for (Motion& motion : layout.motions) motion.origin = motion.origin + by;
  for (Zone& zone : layout.zones) zone.frame.origin = zone.frame.origin + by;
  return layout;
}

/// "a/board" becomes "za/board": the order of the parts is turned round.
Layout renamed(Layout layout) {
  const auto other = [](const std::string& id) {
    return id.empty() ? id : std::string(1, static_cast<char>('a' + 'z' - id[0])) + id;
  };
  for (Part& part : layout.parts) {
    part.id = other(part.id);
    part.module = other(part.module);
  }
  for (Motion& motion : layout.motions) {
    motion.id = other(motion.id);
    motion.after = other(motion.after);
    for (std::string& id : motion.parts) id = other(id);
  }
  for (Zone& zone : layout.zones) zone.owner = other(zone.owner);
  for (Gap& gap : layout.gaps) {
    gap.a = other(gap.a);
    gap.b = other(gap.b);
  }
  std::ranges::sort(layout.parts, {}, &Part::id);
  std::ranges::sort(layout.motions, {}, &Motion::id);
  return layout;
}

}  // namespace

TEST_CASE("findings do not depend on place, hand, names or order", "[clearance][planted]") {
  for (const Fault& fault : faults()) {
    Layout layout = sound_scene();
    fault.plant(layout);
    if (layout.vehicle || std::string(fault.code) == "clearance.not_whole") continue;
    std::ranges::sort(layout.parts, {}, &Part::id);
    const auto plain = gist(check_clearance(layout));
    CAPTURE(fault.code);
    CHECK(gist(check_clearance(shifted(layout, {10000, -10000, 10000}))) == plain);
    CHECK(gist(check_clearance(mirrored(layout))) == plain);
    if (std::string_view(fault.code).starts_with("clearance.pair")) continue;  // a and b change
    CHECK(gist(check_clearance(renamed(layout))) == plain);
  }
}

TEST_CASE("findings of a file do not depend on its order or its units", "[clearance][planted]") {
  const std::string post = R"(
[module.post]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
width = "300 mm"
depth = "1200 mm"
height = "900 mm"
levels = [0]
place = { rear = "galley.rear", right = "galley.left + 200 mm" }
)";
  const auto found = [](const std::string& text) {
    return gist(check_clearance(sample_layout(text)));
  };
  const auto plain = found(std::string(kLopsidedGalley) + post);
  CHECK_FALSE(plain.empty());
  CHECK(found(post + std::string(kLopsidedGalley)) == plain);
  std::string inches = post;
  const auto write = [&](const std::string& mm, const std::string& in) {
    const auto at = inches.find(mm);
    REQUIRE(at != std::string::npos);
    inches.replace(at, mm.size(), in);
  };
  // 25.4 mm are an inch by definition: 304.8 mm, 1219.2 mm, 914.4 mm.
  std::string metric = post;
  const auto rewrite = [&](const std::string& from, const std::string& to) {
    metric.replace(metric.find(from), from.size(), to);
  };
  rewrite("300 mm", "304.8 mm");
  rewrite("1200 mm", "1219.2 mm");
  rewrite("900 mm", "914.4 mm");
  write("300 mm", "12 in");
  write("1200 mm", "4 ft");
  write("900 mm", "36 in");
  CHECK(found(std::string(kLopsidedGalley) + inches) ==
        found(std::string(kLopsidedGalley) + metric));
}
