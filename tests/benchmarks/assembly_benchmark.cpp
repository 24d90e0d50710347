// How long the order of assembly of a large frame takes: 350 members of slotted profile, each rail
// bolted at both ends.

#include "assembly_benchmark.hpp"

#include "assembly/assembly.hpp"
#include "shape/sections.hpp"
#include "stopwatch.hpp"

#include <algorithm>
#include <cstdio>
#include <map>
#include <string>

namespace {

using namespace ribbay;

constexpr double kSide = 40.0;
constexpr double kBay = 800.0;
constexpr double kDepth = 600.0;
constexpr double kLevel = 300.0;

class Frames {
 public:
  Frames() {
    auto catalogue = std::make_shared<Catalogue>();
    Bolt& bolt = catalogue->bolts["bolt"];
    bolt.key = "bolt";
    bolt.diameter = 8;
    bolt.length = 16;
    bolt.head_diameter = 13;
    bolt.head_height = 8;
    bolt.spanner = 6;
    layout_.catalogue = std::move(catalogue);
    layout_.modules = {{.name = "frame", .kind = "custom", .title = "Frame", .envelope = {},
                        .front = "rear", .place = {}}};
    section_ = slotted_section({});
  }

  /// A member along `axis` (0, 1 or 2) whose section's middle runs from `from`.
  std::string add(const std::string& name, Vec3 from, int axis, double length) {
    Part part;
    part.id = "frame/" + name;
    part.module = "frame";
    part.title = name;
    part.kind = PartKind::member;
    part.stock.length = length;
    part.mass_kg = 0.002 * length;
    // Like parts share their shape, as in a layout.
    ShapePtr& shape = by_length_[length];
    if (!shape)
      shape = std::make_shared<const Shape>(Shape{{{{.section = section_, .height = length}, {}}}});
    part.shape = shape;
    const Vec3 along{axis == 0 ? 1.0 : 0.0, axis == 1 ? 1.0 : 0.0, axis == 2 ? 1.0 : 0.0};
    const Vec3 across = axis == 2 ? Vec3{1, 0, 0} : Vec3{0, 0, 1};
    part.frame = frame_zx(from, along, across);
    layout_.parts.push_back(part);
    return part.id;
  }

  /// A bolt under the rail's end into what it meets, driven along the rail.
  void bolt(const std::string& rail, const std::string& to, Vec3 at, Vec3 way) {
    Part part;
    part.id = rail + ".bolt_" + std::to_string(layout_.joints.size());
    part.module = "frame";
    part.kind = PartKind::hardware;
    part.stock.key = "bolt";
    part.hosts = {rail, to};
    part.shape = bolt_;
    part.frame = frame_zx(at + Vec3{0, 0, -30} - way * 4.0, way, {0, 0, 1});
    layout_.parts.push_back(part);
    layout_.joints.push_back({.id = part.id + ".joint", .kind = "bolted", .parts = {rail, to},
                              .hardware = {part.id}});
  }

  Layout finish() {
    std::ranges::sort(layout_.parts, {}, &Part::id);
    return std::move(layout_);
  }

 private:
  Layout layout_;
  Region section_;
  std::map<double, ShapePtr> by_length_;
  ShapePtr bolt_ = std::make_shared<const Shape>(
      Shape{{cylinder(8, 16), cylinder(13, 8, Frame{.origin = {0, 0, -8}})}});
};

Layout frame(int bays, int levels) {
  Frames frames;
  std::vector<std::string> posts[2];
  const auto n = [](int i) { return std::to_string(i); };
  const auto x = [](int i) { return i * kBay; };
  for (int i = 0; i <= bays; ++i) {
    for (int row : {0, 1})
      posts[row].push_back(frames.add("post." + n(row) + "_" + n(i), {x(i), row * kDepth, 0}, 2,
                                      levels * kLevel));
  }
  const double half = kSide / 2;
  for (int level = 0; level < levels; ++level) {
    const double z = 100 + level * kLevel;
    for (int i = 0; i <= bays; ++i) {
      const std::string side = frames.add("side." + n(level) + "_" + n(i), {x(i), half, z}, 1,
                                          kDepth - kSide);
      frames.bolt(side, posts[0][static_cast<std::size_t>(i)], {x(i), half, z}, {0, -1, 0});
      frames.bolt(side, posts[1][static_cast<std::size_t>(i)], {x(i), kDepth - half, z}, {0, 1, 0});
    }
    for (int i = 0; i < bays; ++i) {
      const auto at = static_cast<std::size_t>(i);
      std::string rails[2];
      for (int row : {0, 1}) {
        rails[row] = frames.add("rail." + n(level) + "_" + n(row) + "_" + n(i),
                                {x(i) + half, row * kDepth, z}, 0, kBay - kSide);
        frames.bolt(rails[row], posts[row][at], {x(i) + half, row * kDepth, z}, {-1, 0, 0});
        frames.bolt(rails[row], posts[row][at + 1], {x(i + 1) - half, row * kDepth, z}, {1, 0, 0});
      }
      for (int c = 1; c <= 3; ++c) {
        const Vec3 from{x(i) + c * kBay / 4, half, z};
        const std::string cross =
            frames.add("cross." + n(level) + "_" + n(i) + "_" + n(c), from, 1, kDepth - kSide);
        frames.bolt(cross, rails[0], from, {0, -1, 0});
        frames.bolt(cross, rails[1], from + Vec3{0, kDepth - kSide, 0}, {0, 1, 0});
      }
    }
  }
  return frames.finish();
}

}  // namespace

void order_of_a_large_frame() {
  const Layout layout = frame(9, 6);
  const auto members = std::ranges::count(layout.parts, PartKind::member, &Part::kind);
  std::size_t straight = 0;
  const double best = best_of(5, [&] {
    const AssemblyPlan plan = plan_assembly(layout);
    straight = static_cast<std::size_t>(
        std::ranges::count(plan.units.front().steps, true, &AssemblyStep::straight));
  });
  std::printf("order of assembly of %td members and %zu bolts, all by straight moves: %zu\n", members,
              layout.joints.size(), straight);
  std::printf("  %.1f ms\n", best);
}
