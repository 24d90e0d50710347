#include "bench/tape_out.hpp"
#include "drawings/audit.hpp"
#include "projects.hpp"

#include <cmath>
#include <set>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Where two tapes meet, the one of the two places that is nearer to `hint`.
Vec2 meeting(Vec2 a, double ra, Vec2 b, double rb, Vec2 hint) {
  const double d = length(b - a);
  const double along = (d * d + ra * ra - rb * rb) / (2.0 * d);
  const double off = std::sqrt(std::max(0.0, ra * ra - along * along));
  const Vec2 way = (b - a) * (1.0 / d);
  const Vec2 foot = a + way * along;
  const Vec2 p = foot + perpendicular(way) * off;
  const Vec2 q = foot - perpendicular(way) * off;
  return length(p - hint) < length(q - hint) ? p : q;
}

const TapedModule* module_of(const std::vector<TapedModule>& modules, const std::string& name) {
  const auto found = std::ranges::find(modules, name, &TapedModule::module);
  return found == modules.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("two tapes read to the mm bring each corner back to within 4 mm", "[bench][tape]") {
  const Layout layout = demo();
  const auto modules = taped_modules(layout);
  REQUIRE(module_of(modules, "partition"));
  REQUIRE(module_of(modules, "rack"));
  REQUIRE(module_of(modules, "galley"));
  CHECK_FALSE(module_of(modules, "heater_sled"));  // stands in the rack
  CHECK_FALSE(module_of(modules, "drip_tray"));
  std::size_t placed = 0;
  for (const TapedModule& m : modules) {
    CAPTURE(m.module);
    REQUIRE(m.corners.size() == 4);
    for (const TapedCorner& c : m.corners) {
      if (c.points.empty()) continue;
      REQUIRE(c.points.size() == 2);
      ++placed;
      const Vec2 at{c.at.x, c.at.y};
      const Vec2 a{c.points[0].at.x, c.points[0].at.y};
      const Vec2 b{c.points[1].at.x, c.points[1].at.y};
      const Vec2 back = meeting(a, std::round(length(at - a)), b, std::round(length(at - b)), at);
      CHECK(length(back - at) < 4.0);
    }
  }
  CHECK(placed >= 12);
}

TEST_CASE("corners are those of what stands on the floor", "[bench][tape]") {
  const Layout layout = demo();
  const auto modules = taped_modules(layout);
  const TapedModule& rack = *module_of(modules, "rack");
  // The posts, by their own bounds.
  Box posts;
  for (const Part& part : layout.parts) {
    if (part.module == "rack" && part.id.find("/post") != std::string::npos)
      posts.add(bounds(part));
  }
  const Vec2 want[] = {{posts.lo.x, posts.lo.y},
                       {posts.hi.x, posts.lo.y},
                       {posts.hi.x, posts.hi.y},
                       {posts.lo.x, posts.hi.y}};
  for (std::size_t i = 0; i < 4; ++i) {
    // Posts have rounded corners.
    CHECK(length(Vec2{rack.corners[i].at.x, rack.corners[i].at.y} - want[i]) < 2.0);
  }
  const double across = length(rack.corners[0].at - rack.corners[2].at);
  CHECK(across == Approx(length(rack.corners[1].at - rack.corners[3].at)).margin(0.5));
  CHECK(across == Approx(std::hypot(posts.hi.x - posts.lo.x, posts.hi.y - posts.lo.y)).margin(2.5));
}

TEST_CASE("a taped rack is as deep as its drawing says", "[bench][tape]") {
  const Layout layout = demo();
  const auto modules = taped_modules(layout);
  const TapedModule& rack = *module_of(modules, "rack");
  Box posts;
  for (const Part& part : layout.parts) {
    if (part.module == "rack" && part.id.find("/post") != std::string::npos)
      posts.add(bounds(part));
  }
  // Roundings of 1.5 mm and less are no part of a size: the sharp corners, to a hundredth.
  const double deep = posts.hi.x - posts.lo.x;
  const double wide = posts.hi.y - posts.lo.y;
  CHECK(length(rack.corners[0].at - rack.corners[1].at) == Approx(deep).margin(0.01));
  CHECK(length(rack.corners[2].at - rack.corners[3].at) == Approx(deep).margin(0.01));
  CHECK(length(rack.corners[0].at - rack.corners[2].at) ==
        Approx(std::hypot(deep, wide)).margin(0.01));
}

TEST_CASE("corners are numbered in the order of the pages, and say of what they are",
          "[bench][tape]") {
  const Layout layout = demo();
  const auto modules = taped_modules(layout);
  int number = 0;
  double height = 0.0;
  bool on_van = false;
  for (const TapedModule& m : modules) {
    CAPTURE(m.module);
    for (const TapedCorner& c : m.corners) CHECK(c.number == ++number);
    CHECK((!m.plumbed || !on_van));  // before anything stands
    on_van = on_van || !m.plumbed;
    if (!m.plumbed) {
      CHECK((m.height <= 60.0 || m.height >= height));
      height = m.height;
    }
  }
  // At the floor the sides are notched for the toe board, which reaches past the right one.
  const TapedModule& galley = *module_of(modules, "galley");
  CHECK(galley.corners[0].of == "Side right");
  CHECK(galley.corners[1].of == "Side left");
  CHECK(galley.corners[3].of == "Toe board");
  CHECK(galley.corners[3].at.x == Approx(bounds(*layout.find("galley/toe")).lo.x));
  CHECK(galley.outlines.size() == 4);  // two sides, a divider, the toe board
}

TEST_CASE("a leaning panel's corner is no place for a tape higher up", "[bench][tape]") {
  // The lining follows the wall, which leans in: its corners at the floor are not there at the
  // bunk.
  const auto modules = taped_modules(demo());
  const TapedModule& lining = *module_of(modules, "left_lining");
  for (const TapedCorner& c : module_of(modules, "bunk")->corners) {
    for (const TapePoint& p : c.points) {
      for (const TapedCorner& of_lining : lining.corners)
        CHECK(p.name != std::to_string(of_lining.number));
    }
  }
}

TEST_CASE("what stands in another module is placed from that one", "[bench][tape]") {
  const Layout layout = demo();
  const auto hosted = hosted_modules(layout);
  const auto box_of = [&](const std::string& module) {
    Box box;
    for (const Part& part : layout.parts) {
      if (part.module == module && is_made(part.kind)) box.add(bounds(part));
    }
    return box;
  };
  const Box rack = box_of("rack");
  for (const std::string name : {"heater_sled", "drip_tray"}) {
    CAPTURE(name);
    const auto found = std::ranges::find(hosted, name, &HostedModule::module);
    REQUIRE(found != hosted.end());
    CHECK(found->host == "rack");
    const Box box = box_of(name);
    CHECK(found->rear == Approx(box.lo.x - rack.lo.x));
    CHECK(found->left == Approx(rack.hi.y - box.hi.y));
    CHECK(found->rear + found->front + box.hi.x - box.lo.x == Approx(rack.hi.x - rack.lo.x));
    CHECK(found->right + found->left + box.hi.y - box.lo.y == Approx(rack.hi.y - rack.lo.y));
    CHECK(found->height == Approx(box.lo.z));
  }
  // Every made module is placed one way or the other.
  const auto taped = taped_modules(layout);
  std::set<std::string> made;
  for (const Part& part : layout.parts) {
    if (is_made(part.kind)) made.insert(part.module);
  }
  CHECK(made.size() == taped.size() + hosted.size());
}

TEST_CASE("no tape runs through a wheel arch, a wall, or a module that stands", "[bench][tape]") {
  const Layout layout = demo();
  const Vehicle& van = *layout.vehicle;
  std::vector<std::string> stood;
  for (const TapedModule& m : taped_modules(layout)) {
    CAPTURE(m.module);
    // Marks to plumb from are made before anything stands.
    const std::vector<std::string> standing = m.plumbed ? std::vector<std::string>{} : stood;
    for (const TapedCorner& c : m.corners) {
      for (const TapePoint& p : c.points) {
        CAPTURE(c.number, p.name);
        const double size = length(p.at - c.at);
        for (double at = 5.0; at < size - 5.0; at += 2.0) {
          const Vec3 q = p.at + (c.at - p.at) * (at / size);
          // The last mm at a wall may lie in it: the surveyed surface bends.
          const bool near_end = at < 40.0 || at > size - 40.0;
          if (!near_end && !inside_room(van, q)) FAIL("leaves the room at " << q.x << ", " << q.y);
          for (const WheelArch& arch : van.arches) {
            const double inward = (arch.side == VanSide::left ? 1.0 : -1.0) * q.y;
            // Its rounded ends are cut away, so look at the middle.
            if (q.x > arch.from + arch.radius && q.x < arch.to - arch.radius &&
                q.z < arch.height - arch.edge_radius && inward > arch.half_width + 3.0)
              FAIL("runs through arch " << arch.name);
          }
          for (const Part& part : layout.parts) {
            if (!is_made(part.kind) || std::ranges::find(standing, part.module) == standing.end())
              continue;
            if (part.kind != PartKind::member) continue;  // whose bounds are their own
            const Box box = bounds(part);
            if (q.x > box.lo.x + 3 && q.x < box.hi.x - 3 && q.y > box.lo.y + 3 &&
                q.y < box.hi.y - 3 && q.z > box.lo.z && q.z < box.hi.z)
              FAIL("runs through " << part.id);
          }
        }
      }
    }
    stood.push_back(m.module);
  }
}

TEST_CASE("a ceiling is marked on the floor, below its corners, and plumbed up", "[bench][tape]") {
  const Layout layout = demo();
  const auto modules = taped_modules(layout);
  const TapedModule* ceiling = module_of(modules, "ceiling");
  REQUIRE(ceiling);
  CHECK(ceiling->plumbed);
  CHECK_FALSE(module_of(modules, "rack")->plumbed);
  Box panel;
  for (const Part& part : layout.parts) {
    if (part.module == "ceiling" && is_made(part.kind)) panel.add(bounds(part));
  }
  CHECK(ceiling->height == Approx(panel.lo.z));
  const Vec2 want[] = {{panel.lo.x, panel.lo.y},
                       {panel.hi.x, panel.lo.y},
                       {panel.hi.x, panel.hi.y},
                       {panel.lo.x, panel.hi.y}};
  for (std::size_t i = 0; i < 4; ++i) {
    const TapedCorner& c = ceiling->corners[i];
    CAPTURE(c.number);
    CHECK(c.points.size() == 2);
    CHECK(c.at.z < 10.0);
    CHECK(length(Vec2{c.at.x, c.at.y} - want[i]) < 2.0);
  }
  std::size_t told = 0;
  for (const SetPage& page : tape_out(layout)) {
    told +=
        static_cast<std::size_t>(std::ranges::count_if(page.drawing.texts, [](const InkText& t) {
          return t.text.find("plumbed up, from 14") != std::string::npos;
        }));
  }
  CHECK(told == 1);
}

TEST_CASE("no diagonal repeats a tape, and four corners that are no rectangle say so",
          "[bench][tape][projects]") {
  std::size_t repeated = 0, askew = 0;
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    if (!layout.vehicle) continue;
    const std::vector<TapedModule> modules = taped_modules(layout);
    std::vector<std::string> told;
    for (const SetPage& page : tape_out(layout)) {
      for (const InkText& t : page.drawing.texts) told.push_back(t.text);
    }
    std::size_t surely = 0, perhaps = 0;
    for (const TapedModule& m : modules) {
      CAPTURE(m.module);
      if (std::ranges::all_of(m.corners, [](const TapedCorner& c) { return c.points.empty(); }))
        continue;  // on no page
      for (std::size_t i = 0; i < 2; ++i) {
        const TapedCorner& a = m.corners[i];
        const TapedCorner& b = m.corners[i + 2];
        bool taped = false;  // one from the other
        for (const TapePoint& p : a.points) taped = taped || p.name == std::to_string(b.number);
        for (const TapePoint& p : b.points) taped = taped || p.name == std::to_string(a.number);
        repeated += taped ? 1 : 0;
        const std::string words =
            std::to_string(a.number) + " – " + std::to_string(b.number) + "  (";
        CHECK(std::ranges::count_if(told, [&](const std::string& t) {
                return t.starts_with(words);
              }) == (taped ? 0 : 1));
      }
      // How far a side ends beside the square to its neighbour, mm.
      double off = 0.0;
      for (std::size_t i = 0; i < 4; ++i) {
        const Vec3 one = m.corners[(i + 1) % 4].at - m.corners[i].at;
        const Vec3 other = m.corners[(i + 3) % 4].at - m.corners[i].at;
        off = std::max(off, std::abs(dot(one, other)) / std::min(length(one), length(other)));
      }
      surely += off > 4.0 ? 1 : 0;
      perhaps += off > 0.5 ? 1 : 0;
    }
    std::string all;
    for (const std::string& t : told) all += t + " ";
    std::size_t said = 0;
    for (std::size_t at = all.find("no rectangle"); at != std::string::npos;
         at = all.find("no rectangle", at + 1))
      ++said;
    CHECK(said >= surely);
    CHECK(said <= perhaps);
    askew += surely;
  }
  CHECK(askew > 0);
  CHECK(repeated > 2);
}

TEST_CASE("points are the van's own, where its file says", "[bench][tape]") {
  const Layout layout = demo();
  bool door = false;
  for (const TapedModule& m : taped_modules(layout)) {
    for (const TapedCorner& c : m.corners) {
      for (const TapePoint& p : c.points) {
        if (p.what == "rear doorway, left edge") {
          CHECK(p.at.x == Approx(0.0));
          CHECK(p.at.y == Approx(760.0));  // [opening.rear_doors] of long_high
          door = true;
        }
        if (p.what == "rear doorway, right edge") CHECK(p.at.y == Approx(-760.0));
      }
    }
  }
  CHECK(door);
}

TEST_CASE("a plan shows each corner and point that its table names", "[bench][tape]") {
  const Layout layout = demo();
  const auto pages = tape_out(layout);
  REQUIRE_FALSE(pages.empty());
  for (const TapedModule& m : taped_modules(layout)) {
    for (const TapedCorner& c : m.corners) {
      if (c.points.empty()) continue;
      CAPTURE(c.number);
      std::size_t found = 0;
      std::size_t told = 0;
      for (const SetPage& page : pages) {
        found += static_cast<std::size_t>(
            std::ranges::count(page.drawing.texts, std::to_string(c.number), &InkText::text));
        told += static_cast<std::size_t>(
            std::ranges::count_if(page.drawing.texts, [&](const InkText& t) {
              return t.text.starts_with(std::to_string(c.number) + ":  ") ||
                     t.text.starts_with(std::to_string(c.number) + " " + c.of + ", ");
            }));
      }
      CHECK(found == 1);
      CHECK(told == 1);
    }
  }
  Layout bare = layout;
  bare.vehicle = nullptr;
  CHECK(tape_out(bare).empty());
}
