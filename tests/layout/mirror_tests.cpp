#include "kind_samples.hpp"
#include "laid_out.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

std::string mirrored(const char* module) {
  return std::string("module.") + module + ".mirrored=true";
}

/// The reflection that a mirrored module is under: across the van when it faces along the van.
struct Plane {
  int axis = 1;
  double at = 0.0;
  explicit Plane(const Module& module) {
    const bool along = module.front == "rear" || module.front == "front";
    axis = along ? 1 : 0;
    at = module.envelope.centre()[axis];
  }
  Vec3 point(Vec3 p) const {
    p[axis] = 2 * at - p[axis];
    return p;
  }
  Vec3 direction(Vec3 d) const {
    d[axis] = -d[axis];
    return d;
  }
};

/// Left and right exchanged in the words of an id, as a mirrored module does; only for samples
/// whose own names have neither.
std::string exchanged(const std::string& text) {
  std::string result;
  for (std::size_t at = 0; at < text.size();) {
    if (text.compare(at, 4, "left") == 0) {
      result += "right";
      at += 4;
    } else if (text.compare(at, 5, "right") == 0) {
      result += "left";
      at += 5;
    } else {
      result += text[at++];
    }
  }
  return result;
}

/// Air zones are named after the faces of the equipment itself, which keeps its own left.
std::string image_of_id(const std::string& id) {
  return id.find(".air_") == std::string::npos ? exchanged(id) : id;
}

bool near(Vec3 a, Vec3 b, double within = 1e-9) {
  return length(a - b) < within;
}

/// Every bore as points in the van: where the drill enters and where it ends.
std::vector<std::pair<Vec3, Vec3>> bores(const Part& part) {
  std::vector<std::pair<Vec3, Vec3>> all;
  for (const PlacedPrism& placed : part.shape->prisms) {
    const Frame frame = part.frame * placed.frame;
    for (const Bore& bore : placed.prism.bores) {
      all.emplace_back(frame.point(bore.at), frame.point(bore.at + bore.direction * bore.depth));
    }
  }
  return all;
}

Vec3 turned(Vec3 p, Vec3 origin, Vec3 axis, double angle) {  // Rodrigues
  const Vec3 v = p - origin;
  return origin + v * std::cos(angle) + cross(axis, v) * std::sin(angle) +
         axis * (dot(axis, v) * (1 - std::cos(angle)));
}

}  // namespace

TEST_CASE("a mirrored module is the mirror image of the module, part by part", "[layout][mirror]") {
  const auto sample = GENERATE(from_range(kind_samples()));
  CAPTURE(sample.name);
  const Layout plain = good(sample.text);
  const Layout image = good(sample.text, {mirrored(sample.name)});
  const Plane plane{*plain.module(sample.name)};
  CHECK(plain.module(sample.name)->envelope == image.module(sample.name)->envelope);
  REQUIRE(plain.parts.size() == image.parts.size());

  const MassSummary a = mass_summary(plain);
  const MassSummary b = mass_summary(image);
  CHECK(std::abs(a.mass_kg - b.mass_kg) < 1e-9);
  // Bought equipment is not made over, and in the samples its boxes are symmetric.
  CHECK(near(plane.point(a.centre), b.centre));

  for (const Part& part : plain.parts) {
    CAPTURE(part.id);
    const Part* other = image.find(exchanged(part.id));
    REQUIRE(other != nullptr);
    CHECK(other->kind == part.kind);
    CHECK(other->stock.key == part.stock.key);
    CHECK(other->mass_kg == Approx(part.mass_kg).epsilon(1e-12));
    CHECK(other->stock.length == Approx(part.stock.length).epsilon(1e-12));
    CHECK(near(plane.point(part.frame.point(centroid(*part.shape))),
               other->frame.point(centroid(*other->shape))));
    Box box;
    box.add(plane.point(bounds(part).lo));
    box.add(plane.point(bounds(part).hi));
    CHECK(near(box.lo, bounds(*other).lo));
    CHECK(near(box.hi, bounds(*other).hi));
    // Rigid: determinant +1.
    CHECK(dot(cross(other->frame.x, other->frame.y), other->frame.z) == Approx(1.0));
    if (part.kind == PartKind::panel) {  // face and grain
      CHECK(near(plane.direction(part.frame.z), other->frame.z));
      CHECK(std::abs(dot(plane.direction(part.frame.x), other->frame.x)) == Approx(1.0));
    }
    const auto holes = bores(part);
    const auto other_holes = bores(*other);
    REQUIRE(holes.size() == other_holes.size());
    if (part.kind == PartKind::hardware || part.kind == PartKind::equipment) continue;
    for (const auto& [from, to] : holes) {
      const bool found = std::ranges::any_of(other_holes, [&](const auto& hole) {
        return near(hole.first, plane.point(from)) && near(hole.second, plane.point(to));
      });
      CHECK(found);
    }
  }
}

TEST_CASE("joints, motions, zones and supports of a mirrored module are mirrored too",
          "[layout][mirror]") {
  const auto sample = GENERATE(from_range(kind_samples()));
  CAPTURE(sample.name);
  const Layout plain = good(sample.text);
  const Layout image = good(sample.text, {mirrored(sample.name)});
  const Plane plane{*plain.module(sample.name)};

  REQUIRE(plain.joints.size() == image.joints.size());
  std::set<std::string> joints;
  for (const Joint& joint : image.joints) joints.insert(joint.id);
  for (const Joint& joint : plain.joints) CHECK(joints.contains(exchanged(joint.id)));

  REQUIRE(plain.motions.size() == image.motions.size());
  for (const Motion& motion : plain.motions) {
    CAPTURE(motion.id);
    const auto found = std::ranges::find(image.motions, exchanged(motion.id), &Motion::id);
    REQUIRE(found != image.motions.end());
    const Motion& other = *found;
    CHECK(other.after == exchanged(motion.after));
    CHECK(other.parts.size() == motion.parts.size());
    CHECK(other.travel == Approx(motion.travel));
    const Vec3 p{1, 2, 3};
    if (motion.kind == MotionKind::translation) {
      CHECK(near(plane.direction(motion.axis), other.axis));
      continue;
    }
    // A point turned and then mirrored is the mirrored point turned.
    CHECK(near(plane.point(turned(p, motion.origin, motion.axis, 0.7)),
               turned(plane.point(p), other.origin, other.axis, 0.7)));
  }

  REQUIRE(plain.zones.size() == image.zones.size());
  for (const Zone& zone : plain.zones) {
    const auto other = std::ranges::find(image.zones, image_of_id(zone.id), &Zone::id);
    REQUIRE(other != image.zones.end());
    CHECK(volume(zone.shape) == Approx(volume(other->shape)));
  }
  REQUIRE(plain.supports.size() == image.supports.size());
  double moment = 0.0;
  for (const Support& s : plain.supports) moment += plane.point(s.at)[plane.axis] * s.load_kg;
  for (const Support& s : image.supports) moment -= s.at[plane.axis] * s.load_kg;
  CHECK(std::abs(moment) < 1e-6);
}

TEST_CASE("a rack mirrored in the file and by the program is the rack itself", "[layout][mirror]") {
  // The other hand of kLopsidedRack, written out: bays in the other order, left for right.
  std::string other = kLopsidedRack;
  const auto swap = [&](const std::string& from, const std::string& to) {
    REQUIRE(other.find(from) != std::string::npos);
    other.replace(other.find(from), from.size(), to);
  };
  swap("bays = [\"1 share\", \"400 mm\"]", "bays = [\"400 mm\", \"1 share\"]");
  swap("level = 1\nbay = 1\nsheet", "level = 1\nbay = 2\nsheet");
  swap("bay = 1\nlevel = 1\nfrom_left = \"20 mm\"",
       "bay = 2\nlevel = 1\nfrom_left = \"self.width - 3 * 40 mm - 400 mm - 330 mm - 20 mm\"");
  swap("bay = 2\nlevel = 2", "bay = 1\nlevel = 2");
  swap("side = \"right\"", "side = \"left\"");
  const Layout plain = good(kLopsidedRack);
  const Layout twice = good(other, {mirrored("rack")});
  REQUIRE(plain.parts.size() == twice.parts.size());
  // Bays keep the builder's numbers, so parts are found by what they are and where they stand.
  std::vector<bool> used(twice.parts.size());
  for (const Part& part : plain.parts) {
    CAPTURE(part.id);
    // The feet of a post between two bays stand at its right, whatever the bays are.
    if (part.id.starts_with("rack/foot.1_")) continue;
    bool found = false;
    for (std::size_t i = 0; i < twice.parts.size() && !found; ++i) {
      const Part& same = twice.parts[i];
      if (used[i] || same.stock.key != part.stock.key || same.title != part.title) continue;
      found = near(bounds(part).lo, bounds(same).lo, 1e-9) &&
              near(bounds(part).hi, bounds(same).hi, 1e-9) &&
              near(part.frame.point(centroid(*part.shape)), same.frame.point(centroid(*same.shape)),
                   1e-9);
      if (found) used[i] = true;
    }
    CHECK(found);
  }
  // And equal parts stay equal: nothing but the shelf and the infill knows left from right.
  CHECK(part_types(plain).size() == part_types(twice).size());
}

TEST_CASE("symmetric parts keep one mark, whichever hand their module has", "[layout][mirror]") {
  const Layout plain = good(kLopsidedRack);
  std::string both = kLopsidedRack;
  both += R"(
[module.pair]
based_on = "rack"
mirrored = true
place = { rear = "1400 mm" }
)";
  const Layout two = good(both);
  CHECK(two.parts.size() == 2 * plain.parts.size());
  CHECK(part_types(two).size() == part_types(plain).size());
}

TEST_CASE("the words left and right stay true in a mirrored module", "[layout][mirror]") {
  const Layout rack = good(kLopsidedRack, {mirrored("rack")});
  // Faces the rear: its left, seen from in front, is the van's left.
  CHECK(bounds(*rack.find("rack/post.front_left")).centre().y >
        bounds(*rack.find("rack/post.front_right")).centre().y);
  const Layout galley = good(kLopsidedGalley, {mirrored("galley")});
  // Faces left: its left, seen from in front, is towards the front of the van.
  CHECK(bounds(*galley.find("galley/side.left")).centre().x >
        bounds(*galley.find("galley/side.right")).centre().x);
  CHECK(galley.find("galley/side.left")->title == "Side left");
  // The builder's own names stay, "right" among them.
  std::string text = kLopsidedRack;
  text.replace(text.find("holds.battery"), 13, "holds.right");
  CHECK(good(text, {mirrored("rack")}).find("rack/right") != nullptr);
}

TEST_CASE("a mirrored partition fits the walls that are really there", "[layout][mirror]") {
  // Left wall leans from 800 at the floor to 700 at 900 mm, right wall from 750 to 600.
  const std::string leaning = R"(
format = 1
[vehicle]
title = "Leaning test van"
heights = [0, 900, 1890, 1900]
surveyed = "skin"
uncertainty = "2 mm"
floor_thickness = "12 mm"
gross_limit = "3500 kg"
[station.rear]
x = "0 mm"
left = [800, 700, 600, 30]
right = [750, 600, 500, 30]
[station.front]
x = "3000 mm"
left = [800, 700, 600, 30]
right = [750, 600, 500, 30]
)";
  const std::string text = std::string(kLopsidedPartition) +
                           "[module.partition.passes.hose]\nleft = 300\nright = 200\nbottom = 100\n"
                           "top = 200\n";
  const Layout plain = good(text, {}, leaning);
  const Layout image = good(text, {mirrored("partition")}, leaning);
  const auto edges = [](const Layout& layout) {
    Box all;
    for (const Part& part : layout.parts) {
      if (part.kind != PartKind::panel) continue;
      all.add(bounds(part).lo);
      all.add(bounds(part).hi);
    }
    return all;
  };
  // 3 mm off the wall as it is 3 mm higher up: the gap is kept all round.
  CHECK(edges(image).hi.y == Approx(800 - 3 - 3 * 100.0 / 900));
  CHECK(edges(image).lo.y == Approx(-750 + 3 + 3 * 150.0 / 900));
  const auto area_of = [](const Layout& layout) {
    double sum = 0.0;
    for (const Part& part : layout.parts) {
      if (part.kind == PartKind::panel) sum += volume(*part.shape);
    }
    return sum;
  };
  // The narrow piece stands on the other side, and all the rest of the wall is the same.
  CHECK(area_of(image) == Approx(area_of(plain)).epsilon(1e-9));
  CHECK(bounds(*plain.find("partition/piece_2")).centre().y *
            bounds(*image.find("partition/piece_2")).centre().y <
        0.0);
  // What is said in van axes stays where it was said.
  const auto opening = [](const Layout& layout) {
    Box box;
    for (const Part& part : layout.parts) {
      if (part.kind != PartKind::panel) continue;
      for (const Cut& cut : part.shape->prisms.front().prism.cuts) {
        if (cut.role != CutRole::cut_out) continue;
        for (const Corner& c : cut.outline) box.add(part.frame.point({c.at.x, c.at.y, 0}));
      }
    }
    return box;
  };
  CHECK(opening(image).lo.y == Approx(200));
  CHECK(opening(image).hi.y == Approx(300));
  CHECK(opening(image).lo.z == Approx(opening(plain).lo.z));
}

TEST_CASE("a mirrored module buys the pair of what has one", "[layout][mirror][catalogue]") {
  const std::string pair = R"(
[equipment.box_l]
mass = "5 kg"
assumption = true
pair = "box_r"
box.body = { at = [0, 0, 0], size = [200, 200, 200] }
box.tap = { at = [-30, 90, 90], size = [30, 20, 20] }
[equipment.box_r]
mass = "5 kg"
assumption = true
pair = "box_l"
box.body = { at = [0, 0, 0], size = [200, 200, 200] }
box.tap = { at = [200, 90, 90], size = [30, 20, 20] }
)";
  std::string text = kLopsidedRack + pair;
  text.replace(text.find("item = \"water_heater\""), 21, "item = \"box_l\"");
  const Layout plain = good(text);
  const Layout image = good(text, {mirrored("rack")});
  CHECK(plain.find("rack/heater")->stock.key == "box_l");
  CHECK(image.find("rack/heater")->stock.key == "box_r");
  // The taps look away from each other: both inward, as seen from the bay's post.
  const Plane plane{*plain.module("rack")};
  CHECK(near(plane.point(bounds(*plain.find("rack/heater")).lo) -
                 Vec3{0, bounds(*plain.find("rack/heater")).size().y, 0},
             bounds(*image.find("rack/heater")).lo));
}

TEST_CASE("what has no mirror image stands as it is at the mirrored place", "[layout][mirror]") {
  const std::string handed = R"(
[equipment.handed]
mass = "5 kg"
assumption = true
box.body = { at = [0, 0, 0], size = [200, 200, 200] }
box.tap = { at = [-30, 90, 90], size = [30, 20, 20] }
)";
  std::string text = kLopsidedRack + handed;
  text.replace(text.find("item = \"water_heater\""), 21, "item = \"handed\"");
  const Layout plain = good(text);
  const Layout image = good(text, {mirrored("rack")});
  const Part& a = *plain.find("rack/heater");
  const Part& b = *image.find("rack/heater");
  CHECK(a.shape->prisms.size() == b.shape->prisms.size());
  CHECK(key(*a.shape) == key(*b.shape));
  CHECK(b.stock.key == "handed");
  // Its body stands where the image of its body would, its front looks the same way.
  const Plane plane{*plain.module("rack")};
  CHECK(near(plane.point(a.frame.point({100, 100, 100})), b.frame.point({100, 100, 100})));
  CHECK(near(plane.direction(a.frame.y), b.frame.y));
}
