#include "drawings/audit.hpp"
#include "drawings/drawings.hpp"
#include "samples.hpp"
#include "xml_check.hpp"

#include <catch2/catch.hpp>

#include <regex>
#include <set>

using namespace ribbay;

namespace {

bool has_text(const Drawing& d, const std::string& text) {
  return std::ranges::any_of(d.texts, [&](const InkText& t) { return t.text == text; });
}

bool has_size(const Drawing& d, const std::string& text) {
  return std::ranges::any_of(d.dimensions, [&](const InkDimension& i) { return i.text == text; });
}

const SetPage& page_named(const std::vector<SetPage>& pages, const std::string& part) {
  const auto found = std::ranges::find_if(
      pages, [&](const SetPage& p) { return p.path.find(part) != std::string::npos; });
  REQUIRE(found != pages.end());
  return *found;
}

}  // namespace

TEST_CASE("every page of a set is clean, whatever the project shows", "[drawings][set]") {
  const bool cabinet = GENERATE(false, true);
  const bool first_angle = GENERATE(false, true);
  const LengthStyle show = GENERATE(LengthStyle::millimetres, LengthStyle::inches);
  const bool stamped = GENERATE(false, true);
  CAPTURE(cabinet, first_angle, show == LengthStyle::inches, stamped);
  Layout layout = cabinet ? samples::cabinet() : samples::rack();
  layout.project.first_angle = first_angle;
  layout.project.show = show;
  const auto pages = drawing_set(layout, {.not_for_cutting = stamped});
  CHECK(pages.size() >= part_types(layout).size() + 2);  // plan and assembly
  std::set<std::string> names;
  for (const SetPage& page : pages) {
    CAPTURE(page.path);
    for (const Fault& f : audit(page.drawing))
      FAIL_CHECK(f.what << " kind " << static_cast<int>(f.kind) << " at " << f.at.x << ", "
                        << f.at.y);
    CHECK(std::regex_match(page.path, std::regex("drawings/[0-9]{3,}-[a-z0-9-]+\\.svg")));
    CHECK(names.insert(page.path).second);
    CHECK(has_text(page.drawing, "NOT FOR CUTTING") == stamped);
    CHECK(page.drawing.lines.size() > 60);
    CHECK_FALSE(
        has_text(page.drawing, "No legible drawing could be laid out. Use the model in model/."));
  }
}

TEST_CASE("the files are well-formed and the same bytes every time", "[drawings][set]") {
  const Layout layout = samples::cabinet();
  const OutputFiles once = drawings(layout);
  const OutputFiles again = drawings(samples::cabinet());
  REQUIRE(once.size() == again.size());
  for (std::size_t i = 0; i < once.size(); ++i) {
    CAPTURE(once[i].path);
    CHECK(once[i].path == again[i].path);
    CHECK(once[i].bytes == again[i].bytes);
    CHECK(xml_fault(once[i].bytes) == "");
    CHECK_FALSE(once[i].what.empty());
  }
}

TEST_CASE("a member's drawing gives its length, its section and each hole once",
          "[drawings][part]") {
  const auto pages = drawing_set(samples::rack());
  const Drawing& post = page_named(pages, "m1-post").drawing;
  CHECK(has_size(post, "900"));
  // Holes 20 below each level of the rack: 40, 420 and 900.
  for (const char* z : {"20", "400", "880"}) CHECK(has_size(post, z));
  CHECK(has_text(post, "3 × Ø7 through"));
  CHECK(has_text(post, "M8 ↧ 25, end 1"));
  CHECK(has_text(post, "Slotted profile 40"));
  const Drawing& rail = page_named(pages, "m2-rail").drawing;
  CHECK(has_size(rail, "1020"));
  CHECK(has_text(rail, "M8 ↧ 25, both ends"));
}

TEST_CASE("a panel's drawing gives outline, cuts with their depth, and its holes",
          "[drawings][part]") {
  const auto pages = drawing_set(samples::cabinet());
  const Drawing& side = page_named(pages, "side-left").drawing;
  for (const char* size : {"880", "480", "11.8", "100", "112"}) {
    CAPTURE(size);
    CHECK(has_size(side, size));
  }
  CHECK(has_text(side, "Dado, 4 deep"));
  CHECK(has_text(side, "Rebate, 6 deep"));
  CHECK(has_text(side, "GRAIN"));
  // Two rows of twelve shelf pins and two screws are four rows of the table.
  CHECK(std::ranges::count_if(side.texts, [](const InkText& t) { return t.text == "12"; }) >= 2);
  CHECK((has_text(side, "32 up") || has_text(side, "32 right")));

  const Drawing& top = page_named(pages, "worktop").drawing;
  CHECK(has_text(top, "Cut-out through, R20"));
  CHECK(has_text(top, "Ø35 through"));
}

TEST_CASE("mirrored sides are drawn on their worked face", "[drawings][part]") {
  // Both sides are worked inside, where one of them shows the back of its sheet: neither needs
  // hidden lines.
  const auto pages = drawing_set(samples::cabinet());
  for (const char* name : {"side-left", "side-right"}) {
    const Drawing& side = page_named(pages, name).drawing;
    CHECK_FALSE(has_text(side, "Dado, 4 deep, face B"));
    CHECK(has_text(side, "Dado, 4 deep"));
  }
}

TEST_CASE("an assembly names every part once and counts them", "[drawings][assembly]") {
  const Layout layout = samples::rack();
  const auto pages = drawing_set(layout);
  const Drawing& rack = page_named(pages, "010-rack").drawing;
  const bool cut_open =
      std::ranges::any_of(rack.texts, [](const InkText& t) { return t.text.starts_with("A-A"); });
  for (const PartType& type : part_types(layout)) {
    CAPTURE(type.mark);
    // Once in its balloon, once in the list; once more where the section beside the views cuts it.
    const auto told = std::ranges::count(rack.texts, type.mark, &InkText::text);
    CHECK((told == 2 || (told == 3 && cut_open)));
  }
  CHECK(has_size(rack, "1100"));
  CHECK(has_size(rack, "560"));
  CHECK(has_size(rack, "911.8"));  // top shelf included
  CHECK(has_size(rack, "420"));    // the middle level
}

TEST_CASE("the side view stands where the projection method wants it", "[drawings][assembly]") {
  // ISO 5456-2 (from memory): in first angle the view from above lies below the front view, in
  // third angle above it. The top view is the only one as deep as the rack and as wide.
  for (const bool first_angle : {true, false}) {
    Layout layout = samples::rack();
    layout.project.first_angle = first_angle;
    const auto pages = drawing_set(layout);
    const Drawing& d = page_named(pages, "010-rack").drawing;
    // The overall height 911.8 is drawn beside the front view, so its ends tell where that is.
    const auto height = std::ranges::find(d.dimensions, "911.8", &InkDimension::text);
    REQUIRE(height != d.dimensions.end());
    const double front_low = std::min(height->from, height->to);
    const double front_high = std::max(height->from, height->to);
    const auto width = std::ranges::find(d.dimensions, "1100", &InkDimension::text);
    REQUIRE(width != d.dimensions.end());
    const double left = std::min(width->from, width->to);
    const double right = std::max(width->from, width->to);
    bool below = false;
    bool above = false;
    for (const InkLine& l : d.lines) {
      if (l.owner < 0 || std::abs(l.a.y - l.b.y) > 1e-6) continue;
      if (std::abs(std::min(l.a.x, l.b.x) - left) > 0.01 ||
          std::abs(std::max(l.a.x, l.b.x) - right) > 0.01)
        continue;
      below = below || l.a.y < front_low - 1.0;
      above = above || l.a.y > front_high + 1.0;
    }
    CHECK(below == first_angle);
    CHECK(above == !first_angle);
  }
}

TEST_CASE("the side view looks from the side that its place says", "[drawings][assembly]") {
  // ISO 5456-2 (from memory): what stands to the right of the front view is the view from the left
  // in first angle and from the right in third angle; so the front face lies away from the front
  // view, or beside it.
  for (const bool first_angle : {true, false}) {
    Layout layout = samples::cabinet();
    layout.project.first_angle = first_angle;
    const auto pages = drawing_set(layout);
    const Drawing& d = page_named(pages, "010-galley").drawing;
    const auto deep = std::ranges::find(d.dimensions, "502", &InkDimension::text);
    REQUIRE(deep != d.dimensions.end());
    const double lo = std::min(deep->from, deep->to);
    const double hi = std::max(deep->from, deep->to);
    const auto height = std::ranges::find(d.dimensions, "891.8", &InkDimension::text);
    REQUIRE(height != d.dimensions.end());
    // The middle of all ink of one part within the side view.
    const auto middle = [&](const std::string& part) {
      double sum = 0.0;
      int count = 0;
      for (const InkLine& l : d.lines) {
        if (l.owner < 0 || d.owners[static_cast<std::size_t>(l.owner)] != part) continue;
        if (std::min(l.a.x, l.b.x) < lo - 0.1 || std::max(l.a.x, l.b.x) > hi + 0.1) continue;
        if (std::min(l.a.y, l.b.y) < std::min(height->from, height->to) - 0.1) continue;
        sum += (l.a.x + l.b.x) / 2;
        ++count;
      }
      REQUIRE(count > 0);
      return sum / count;
    };
    const double front = middle("galley/front.2");
    CHECK((front > (lo + hi) / 2) == first_angle);
  }
}

TEST_CASE("a round cut-out is given by its centre and its diameter", "[drawings][part]") {
  Layout layout = samples::rack();
  layout.modules.front().front = "right";
  layout.parts = {samples::panel("rack/cover", "Cover", {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, 500, 300,
                                 {{circle({190, 140}, 120), -1, 12.8, CutRole::cut_out}})};
  const auto pages = drawing_set(layout);
  const Drawing& cover = page_named(pages, "cover").drawing;
  CHECK(has_text(cover, "Cut-out Ø120 through"));
  CHECK(has_size(cover, "190"));
  CHECK(has_size(cover, "140"));
  for (const char* edge : {"130", "250", "80", "200"}) CHECK_FALSE(has_size(cover, edge));
}

TEST_CASE("finishes are told face by face and edge by edge", "[drawings][part]") {
  Layout layout = samples::rack();
  layout.modules.front().front = "right";
  Part lid = samples::panel("rack/lid", "Lid", {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, 500, 300);
  lid.coverings = {
      {.finish = "hard_oil", .face = true},
      {.finish = "a_band_with_a_name_that_no_field_of_a_title_block_could_hold", .edges = {0, 1}}};
  layout.parts = {lid};
  const auto told = [&](const std::string& text) {
    const auto pages = drawing_set(layout);
    return has_text(page_named(pages, "lid").drawing, text);
  };
  CHECK(told("Face A: hard_oil."));
  CHECK(told("Face B: as supplied."));
  // The outline begins at the lower left corner: its first side is the bottom, the second the
  // right.
  CHECK(told(
      "Edges, bottom and right: a_band_with_a_name_that_no_field_of_a_title_block_could_hold."));
  CHECK(told("see notes"));
  // Worked from behind, the part's back is what is shown: left and right change places.
  layout.parts[0].coverings = {{.finish = "hard_oil", .face = true, .edges = {1}}};
  Shape worked = *lid.shape;
  worked.prisms[0].prism.bores = {samples::drill({40, 40, 0}, {0, 0, 1}, 8, 6, BoreRole::dowel)};
  layout.parts[0].shape = std::make_shared<Shape>(worked);
  CHECK(told("Face A: as supplied."));
  CHECK(told("Face B: hard_oil."));
  CHECK(told("Edge, left: hard_oil."));
}

TEST_CASE("a module of equipment alone shows it", "[drawings][assembly]") {
  Layout layout = samples::rack();
  Part box = samples::panel("rack/battery", "Battery", {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, 400, 300);
  box.kind = PartKind::equipment;
  box.stock = {"battery", 400, 300, 11.8, false};
  layout.parts = {box};
  const auto pages = drawing_set(layout);
  const Drawing& d = page_named(pages, "010-rack").drawing;
  const auto drawn = std::ranges::count_if(d.lines, [&](const InkLine& l) {
    return l.owner >= 0 && d.owners[static_cast<std::size_t>(l.owner)] == "rack/battery";
  });
  CHECK(drawn >= 3 * 4);  // three views, four sides each
  CHECK(has_text(d, "1"));
  CHECK(has_size(d, "400"));
}

TEST_CASE("drawers and doors are outlined at the end of their way", "[drawings][assembly]") {
  Layout layout = samples::cabinet();
  Motion drawer;
  drawer.id = "galley/drawer";
  drawer.parts = {"galley/front.3"};
  drawer.axis = {0, -1, 0};
  drawer.travel = 350;
  // Hinged upright at the left end of the cabinet, a quarter turn.
  Motion door;
  door.id = "galley/door";
  door.kind = MotionKind::rotation;
  door.parts = {"galley/front.2"};
  door.axis = {0, 0, 1};
  door.origin = {502, 612, 300};
  door.travel = std::acos(-1.0) / 2;
  layout.motions = {door, drawer};
  const auto pages = drawing_set(layout);
  const Drawing& d = page_named(pages, "010-galley").drawing;
  const auto deep = std::ranges::find(d.dimensions, "502", &InkDimension::text);
  const auto high = std::ranges::find(d.dimensions, "891.8", &InkDimension::text);
  REQUIRE(deep != d.dimensions.end());
  REQUIRE(high != d.dimensions.end());
  const double scale = std::abs(deep->to - deep->from) / 502;
  // Upright lines of a part in the double-chain line, left to right; lying ones, bottom to top.
  const auto spread = [&](const std::string& part, bool upright) {
    double lo = 1e9;
    double hi = -1e9;
    for (const InkLine& l : d.lines) {
      if (l.owner < 0 || d.owners[static_cast<std::size_t>(l.owner)] != part) continue;
      if (l.pen.type != LineType::double_chain) continue;
      CHECK(l.pen.width == kGroup35.narrow);
      if (std::abs(upright ? l.a.x - l.b.x : l.a.y - l.b.y) > 1e-6) continue;
      // The side view stands to the right of the front view, the plan below it.
      if (upright ? l.a.x < std::min(deep->from, deep->to) - 1.0
                  : l.a.y > std::min(high->from, high->to) - 1.0)
        continue;
      lo = std::min(lo, upright ? l.a.x : l.a.y);
      hi = std::max(hi, upright ? l.a.x : l.a.y);
    }
    return (hi - lo) / scale;
  };
  // Shut, and drawn out by its travel; both 11.8 thick.
  CHECK(spread("galley/front.3", true) == Approx(350 + 11.8).margin(0.2));
  // Shut it lies along the front, open it stands square to it.
  CHECK(spread("galley/front.2", false) > 800);
}

TEST_CASE("every seam of a row of boards has its position", "[drawings][assembly]") {
  Layout layout = samples::rack();
  layout.parts.clear();
  for (int i = 0; i < 20; ++i) {
    layout.parts.push_back(samples::panel("rack/board." + std::to_string(100 + i), "Board",
                                          {0, -900.0 + 90 * i, 0}, {0, 0, 1}, {0, 1, 0}, 1400, 90));
  }
  samples::finish(layout);
  const auto pages = drawing_set(layout);
  const Drawing& d = page_named(pages, "010-rack").drawing;
  for (int seam = 1; seam < 20; ++seam) {
    CAPTURE(seam);
    CHECK(has_size(d, std::to_string(90 * seam)));
  }
}

TEST_CASE("a layout without parts has no drawings", "[drawings][set]") {
  Layout empty;
  empty.catalogue = samples::catalogue();
  CHECK(drawings(empty).empty());
}
