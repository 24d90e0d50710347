// Checks with a memo of what was there before, against checks from scratch.
#include "clearance/clearance.hpp"
#include "clearance/near.hpp"
#include "projects.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <iostream>
#include <random>

using namespace ribbay;

namespace {

/// A builder at work: changes a layout in one random way after another.
class Builder {
 public:
  explicit Builder(unsigned seed) : random_{seed} { start(); }

  const Layout& layout() const { return layout_; }

  void change() {
    if (++changes_ % 6 == 0) return start();
    switch (pick(9)) {
      case 0: return shift(a_module(), {some(-3, 3), some(-3, 3), some(0, 3)});
      case 1: return take_out(a_module());
      case 2: return copy(a_module());
      case 3: return part([&](Part& part) { part.frame.origin.x += some(-5, 5); });
      case 4:
        return part([&](Part& part) {
          part.finished.reset();
          part.shape = std::make_shared<const Shape>(
              box_shape({}, {some(10, 200), some(10, 60), some(5, 20)}));
        });
      case 5: layout_.tight = some(0.5, 3.0); return;
      case 6: return motion([&](Motion& motion) { motion.travel += some(-60, 5); });
      case 7: return motion([&](Motion& motion) { motion.origin.x += some(-30, 30); });
      default:
        if (!layout_.joints.empty())
          layout_.joints.erase(layout_.joints.begin() + pick(layout_.joints.size()));
    }
  }

 private:
  std::ptrdiff_t pick(std::size_t below) {
    return static_cast<std::ptrdiff_t>(random_() % below);
  }
  double some(double from, double to) {
    return from + (to - from) * static_cast<double>(random_() % 1000) / 1000.0;
  }

  /// The project with some other value, or in another van.
  void start() {
    const std::string van = pick(3) == 0 ? "long_high" : "long_mid";
    layout_ = testing::demo({"values.spacer=" + std::to_string(60 + pick(12)) + "mm",
                     "project.vehicle=\"" RIBBAY_SOURCE_DIR "/params/vehicles/" + van + ".toml\""});
  }

  std::string a_module() {
    if (layout_.parts.empty()) return {};
    return layout_.parts[static_cast<std::size_t>(pick(layout_.parts.size()))].module;
  }

  template <class Change>
  void part(Change change) {
    if (!layout_.parts.empty())
      change(layout_.parts[static_cast<std::size_t>(pick(layout_.parts.size()))]);
  }

  template <class Change>
  void motion(Change change) {
    if (!layout_.motions.empty())
      change(layout_.motions[static_cast<std::size_t>(pick(layout_.motions.size()))]);
  }

  static bool is_of(const std::string& id, const std::string& module) {
    return id.starts_with(module + "/");
  }

  void shift(const std::string& module, Vec3 by) {
    for (Part& part : layout_.parts) {
      if (part.module == module) part.frame.origin = part.frame.origin + by;
    }
    for (Motion& motion : layout_.motions) {
      if (is_of(motion.id, module)) motion.origin = motion.origin + by;
    }
    for (Zone& zone : layout_.zones) {
      if (is_of(zone.id, module)) zone.frame.origin = zone.frame.origin + by;
    }
  }

  void take_out(const std::string& module) {
    const auto its = [&](const auto& each) { return is_of(each.id, module); };
    std::erase_if(layout_.parts, its);
    std::erase_if(layout_.joints, its);
    std::erase_if(layout_.motions, its);
    std::erase_if(layout_.zones, its);
    std::erase_if(layout_.gaps, [&](const Gap& gap) { return gap.a == module || gap.b == module; });
  }

  void copy(const std::string& module) {
    const std::string name = module + "_" + std::to_string(changes_);
    const auto renamed = [&](std::string id) {
      return is_of(id, module) ? name + id.substr(module.size()) : id;
    };
    Layout more;
    for (Part part : layout_.parts) {
      if (part.module != module) continue;
      part.id = renamed(part.id);
      part.module = name;
      for (std::string& host : part.hosts) host = renamed(host);
      more.parts.push_back(std::move(part));
    }
    for (Motion motion : layout_.motions) {
      if (!is_of(motion.id, module)) continue;
      motion.id = renamed(motion.id);
      motion.after = renamed(motion.after);
      for (std::string& part : motion.parts) part = renamed(part);
      more.motions.push_back(std::move(motion));
    }
    std::ranges::move(more.parts, std::back_inserter(layout_.parts));
    std::ranges::move(more.motions, std::back_inserter(layout_.motions));
    std::ranges::sort(layout_.parts, {}, &Part::id);
    std::ranges::sort(layout_.motions, {}, &Motion::id);
    shift(name, {some(100, 600), 3000, 0});  // beside the van: next to nothing but itself
  }

  std::mt19937 random_;
  Layout layout_;
  int changes_ = 0;
};

void check_same(const ClearanceResult& one, const ClearanceResult& other) {
  CHECK(one.findings == other.findings);
  CHECK(one.contacts == other.contacts);
  CHECK(one.motions == other.motions);
  CHECK(one.pairs == other.pairs);
  CHECK(one.motion_pairs == other.motion_pairs);
  CHECK(one.pieces == other.pieces);
}

bool same(const NearPair& one, const NearPair& other) {
  return one.a == other.a && one.b == other.b && one.distance == other.distance &&
         one.way == other.way && one.at == other.at && one.face == other.face;
}

void check_same(const NearResult& one, const NearResult& other) {
  CHECK(std::ranges::equal(one.pairs, other.pairs, same));
  CHECK(std::ranges::equal(one.motions, other.motions, [](const NearMotion& a, const NearMotion& b) {
    return a.motion == b.motion && same(a.pair, b.pair);
  }));
}

/// Checks the demo after each of so many random changes, with a memo and from scratch.
void compare(int changes) {
  Memo memo;
  Builder builder(20260);
  std::size_t faults = 0;
  for (int i = 0; i < changes; ++i) {
    INFO("change " << i);
    const ClearanceResult kept = check_clearance(builder.layout(), 2, i % 2 == 0, &memo);
    check_same(check_clearance(builder.layout(), 2, i % 2 == 0), kept);
    if (i % 6 == 0) {
      NearOptions options{.within = 10, .face = 2, .further = {}, .jobs = 2};
      const NearResult afresh = near_bodies(builder.layout(), options);
      options.memo = &memo;
      check_same(afresh, near_bodies(builder.layout(), options));
    }
    faults += kept.findings.size();
    builder.change();
  }
  CHECK(faults > static_cast<std::size_t>(changes));  // changes that do harm are among them
  const Memo::Uses uses = memo.uses();
  std::cout << changes << " random changes of the demo, worked out again: places "
            << 100 * uses.places.worked_out / uses.places.asked << " %, pairs "
            << 100 * uses.pairs.worked_out / uses.pairs.asked << " %, of what moves "
            << 100 * uses.motions.worked_out / uses.motions.asked << " %\n";
  CHECK(uses.places.worked_out * 2 < uses.places.asked);
  CHECK(uses.pairs.worked_out * 2 < uses.pairs.asked);
}

}  // namespace

TEST_CASE("after any change a memo answers as a check from scratch does", "[memo]") {
  compare(60);
}

// clearance_tests "[.changes]": a minute or more.
TEST_CASE("the same after many changes", "[.changes]") { compare(400); }

TEST_CASE("nothing is worked out twice for the same layout, and what moved is", "[memo]") {
  Layout layout = scenes::layout_of({scenes::box_part("a/box", {0, 0, 0}, {100, 100, 100}),
                                     scenes::box_part("b/box", {0, 0, 100.5}, {100, 100, 200}),
                                     scenes::box_part("c/box", {900, 0, 0}, {950, 50, 50})});
  layout.tight = 2.0;
  Memo memo;
  const ClearanceResult first = check_clearance(layout, 1, false, &memo);
  const Memo::Uses before = memo.uses();
  CHECK(first.contacts.size() == 1);
  check_same(first, check_clearance(layout, 1, false, &memo));
  CHECK(memo.uses().places.worked_out == before.places.worked_out);
  CHECK(memo.uses().pairs.worked_out == before.pairs.worked_out);
  layout.parts[1].frame.origin.z += 1e-9;  // far below anything that is told
  (void)check_clearance(layout, 1, false, &memo);
  CHECK(memo.uses().places.worked_out == before.places.worked_out + 1);
  CHECK(memo.uses().pairs.worked_out == before.pairs.worked_out + 1);
}

TEST_CASE("another limit is another question", "[memo]") {
  Layout layout = scenes::layout_of({scenes::box_part("a/box", {0, 0, 0}, {100, 100, 100}),
                                     scenes::box_part("b/box", {0, 0, 101.5}, {100, 100, 200})});
  Memo memo;
  for (const double tight : {1.0, 2.0, 1.0}) {
    layout.tight = tight;
    CHECK(check_clearance(layout, 1, false, &memo).contacts.size() == (tight > 1.5 ? 1 : 0));
  }
}
