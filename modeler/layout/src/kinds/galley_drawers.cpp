#include "base/tolerance.hpp"
#include "galley.hpp"
#include "slide_pair.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>

namespace ribbay::detail {

namespace {

/// Air above and below a drawer box, so that nothing scrapes (common practice, no source).
constexpr double kAir = 10.0;
/// Height of the bottom's groove above the lower edge of a drawer box (common practice, no source).
constexpr double kGrooveLift = 10.0;
/// By which a bottom is smaller than from groove floor to groove floor (common practice, no
/// source).
constexpr double kBottomPlay = 1.0;
/// How far a drawer box stays below the finger pull in front of it (common practice, no source).
constexpr double kUnderPull = 15.0;
/// A drawer that is smaller inside than this on any axis holds nothing.
constexpr double kLeastInside = 20.0;
/// A drawer of a column, counted from the top.
struct Drawer {
  std::string name;   ///< "drawer.first_1"
  std::string title;  ///< "Drawer 1 of first"
  double front_bottom = 0.0;
  double front_top = 0.0;
  Box box;              ///< outside of the drawer box
  double bottom = 0.0;  ///< z of the bottom's underside
  double inside_floor = 0.0;
  double rim = 0.0;     ///< z of the inner front's upper edge behind the finger pull
  double groove = 0.0;  ///< depth of grooves and rebates
};

std::optional<std::vector<double>> front_heights(const GalleyWork& work,
                                                 const GalleyColumn& column) {
  const std::vector<Size>& sizes = column.fields->sizes("drawers");
  const double gaps = work.plan.gap * static_cast<double>(sizes.size() - 1);
  const double available = work.plan.fronts_top - work.plan.toe_height - gaps;
  const auto heights = share_out(sizes, available);
  if (heights && std::ranges::min(*heights) > 0.0 &&
      std::abs(std::accumulate(heights->begin(), heights->end(), 0.0) - available) <= kContact) {
    return heights;
  }
  const double fixed = std::accumulate(sizes.begin(), sizes.end(), 0.0,
                                       [](double sum, const Size& size) { return sum + size.mm; });
  work.shop.find(work.fault("galley.fronts_do_not_fit", column, "drawers")
                     .with("measured", fixed, Unit::mm)
                     .with("required", available, Unit::mm)
                     .with("difference", std::abs(fixed - available), Unit::mm));
  return std::nullopt;
}

bool slide_fits(const GalleyWork& work, const GalleyColumn& column, const Slide& slide) {
  const double available = work.plan.back_face - work.plan.carcass_front;
  if (slide.length <= available + kSame) return true;
  work.shop.find(
      work.fault("galley.slide_too_long", column, "drawers")
          .with("slide", slide.key)
          .with("measured", slide.length, Unit::mm)
          .with("required", available, Unit::mm)
          .with("depth_needed", work.request.size.y + slide.length - available, Unit::mm));
  return false;
}

/// Sizes the drawer box behind a front; reports one that holds nothing, with the sizes on every
/// axis.
bool size_box(const GalleyWork& work, const GalleyColumn& column, const Slide& slide,
              Drawer& drawer) {
  const GalleyPlan& plan = work.plan;
  const double t = plan.drawer->thickness;
  drawer.box = {{column.left + slide.thickness, plan.front_back,
                 std::max(drawer.front_bottom, plan.floor) + kAir},
                {column.right - slide.thickness, plan.front_back + slide.length,
                 std::min(drawer.front_top, plan.ceiling) - kAir}};
  drawer.bottom = drawer.box.lo.z + kGrooveLift;
  drawer.inside_floor = drawer.bottom + plan.drawer_bottom->thickness;
  drawer.groove = dado_depth(*plan.drawer);
  const double under_pull = drawer.front_top - plan.pull_depth - kUnderPull;
  drawer.rim = plan.pull_width > 0.0 ? std::min(drawer.box.hi.z, under_pull) : drawer.box.hi.z;

  const Vec3 outside = drawer.box.size();
  const Vec3 inside{outside.x - 2 * t, outside.y - 2 * t, drawer.rim - drawer.inside_floor};
  const double too_low = std::max(kLeastInside - inside.z, slide.height - outside.z);
  if (inside.x >= kLeastInside && inside.y >= kLeastInside && too_low <= 0.0) return true;
  const double front = drawer.front_top - drawer.front_bottom;
  work.shop.find(work.fault("galley.no_room", column, "drawers")
                     .with("drawer", drawer.title)
                     .with("width", inside.x, Unit::mm)
                     .with("length", inside.y, Unit::mm)
                     .with("height", inside.z, Unit::mm)
                     .with("side_height", outside.z, Unit::mm)
                     .with("slide_height", slide.height, Unit::mm)
                     .with("opening", column.opening(), Unit::mm)
                     .with("front", front, Unit::mm)
                     .with("slide_length", slide.length, Unit::mm)
                     .with("opening_needed", 2 * (slide.thickness + t) + kLeastInside, Unit::mm)
                     .with("front_needed", front + too_low, Unit::mm)
                     .with("slide_needed", 2 * t + kLeastInside, Unit::mm));
  return false;
}

/// Returns what is screwed to the front: its handle.
std::optional<HandlePlace> add_front(const GalleyWork& work, const GalleyColumn& column,
                                     const Drawer& drawer) {
  Board& front =
      work.joinery.add({.name = drawer.name + ".front",
                        .title = drawer.title + ", front",
                        .sheet = work.plan.front,
                        .box = {{column.front_left, work.plan.front_face, drawer.front_bottom},
                                {column.front_right, work.plan.front_back, drawer.front_top}},
                        .normal = {0, -1, 0},
                        .along = {1, 0, 0},
                        .cuts = {},
                        .holes = {}});
  work.band_front(front);
  cut_finger_pull(work, column, front, front.box.centre().x);
  const Vec3 middle = front.box.centre();
  return fit_handle(work, column, front, {middle.x, work.plan.front_face, middle.z}, {1, 0, 0});
}

/// The screws of a handle pass through the inner front too, where that stands behind it.
void pass_handle(const GalleyWork& work, const Drawer& drawer, HandlePlace place) {
  if (place.middle.z < drawer.box.lo.z || place.middle.z > drawer.rim) return;
  place.middle.y = drawer.box.lo.y;
  place.thickness = work.plan.drawer->thickness;
  for (const Hole& hole : handle_holes(*work.plan.handle, place))
    work.joinery.drill(drawer.name + ".inner_front", hole);
}

/// Both sides are the same piece, turned: rebated at the ends, grooved for the bottom on the
/// inside.
void add_sides(const GalleyWork& work, const Drawer& drawer) {
  const double t = work.plan.drawer->thickness;
  const Box& b = drawer.box;
  for (const bool left : {true, false}) {
    const std::string word = left ? work.request.left() : work.request.right();
    const double x = left ? b.lo.x : b.hi.x - t;
    const double from = left ? x + t - drawer.groove : x - kPast;
    const double to = left ? x + t + kPast : x + drawer.groove;
    const auto cut = [&](double y0, double y1, double z0, double z1, CutRole role) {
      return BoxCut{{{from, y0, z0}, {to, y1, z1}}, role};
    };
    const double under = b.lo.z - kPast;
    const double over = b.hi.z + kPast;
    const double before = b.lo.y - kPast;
    const double behind = b.hi.y + kPast;
    work.joinery.add(
        {.name = drawer.name + ".side." + word,
         .title = drawer.title + ", side " + word,
         .sheet = work.plan.drawer,
         .box = {{x, b.lo.y, b.lo.z}, {x + t, b.hi.y, b.hi.z}},
         .normal = {left ? 1.0 : -1.0, 0, 0},
         .along = {0, left ? 1.0 : -1.0, 0},
         .cuts = {cut(before, b.lo.y + t, under, over, CutRole::rebate),
                  cut(b.hi.y - t, behind, under, over, CutRole::rebate),
                  cut(before, behind, drawer.bottom, drawer.inside_floor, CutRole::groove)},
         .holes = {}});
  }
}

/// The inner front and the back stand in the sides' rebates, the bottom in grooves all round; all
/// is glued.
void add_ends_and_bottom(const GalleyWork& work, const GalleyColumn& column, const Drawer& drawer) {
  const GalleyPlan& plan = work.plan;
  const double t = plan.drawer->thickness;
  const Box& b = drawer.box;
  const double x0 = b.lo.x + t - drawer.groove;
  const double x1 = b.hi.x - t + drawer.groove;
  const auto groove = [&](double y0, double y1) {
    return BoxCut{{{x0 - kPast, y0, drawer.bottom}, {x1 + kPast, y1, drawer.inside_floor}},
                  CutRole::groove};
  };
  const std::string inner_front = drawer.name + ".inner_front";
  const std::string back = drawer.name + ".back";
  const std::string bottom = drawer.name + ".bottom";
  Board& inner = work.joinery.add({.name = inner_front,
                                   .title = drawer.title + ", inner front",
                                   .sheet = plan.drawer,
                                   .box = {{x0, b.lo.y, b.lo.z}, {x1, b.lo.y + t, b.hi.z}},
                                   .normal = {0, 1, 0},
                                   .along = {1, 0, 0},
                                   .cuts = {groove(b.lo.y + t - drawer.groove, b.lo.y + t + kPast)},
                                   .holes = {}});
  if (drawer.rim < b.hi.z) {
    const double middle = (column.front_left + column.front_right) / 2;
    inner.cuts.push_back({{{middle - plan.pull_width / 2, b.lo.y - kPast, drawer.rim},
                           {middle + plan.pull_width / 2, b.lo.y + t + kPast, b.hi.z + kPast}},
                          CutRole::notch});
  }
  work.joinery.add({.name = back,
                    .title = drawer.title + ", back",
                    .sheet = plan.drawer,
                    .box = {{x0, b.hi.y - t, b.lo.z}, {x1, b.hi.y, b.hi.z}},
                    .normal = {0, -1, 0},
                    .along = {1, 0, 0},
                    .cuts = {groove(b.hi.y - t - kPast, b.hi.y - t + drawer.groove)},
                    .holes = {}});
  work.joinery.add(
      {.name = bottom,
       .title = drawer.title + ", bottom",
       .sheet = plan.drawer_bottom,
       .box = {{x0 + kBottomPlay / 2, b.lo.y + t - drawer.groove + kBottomPlay / 2, drawer.bottom},
               {x1 - kBottomPlay / 2, b.hi.y - t + drawer.groove - kBottomPlay / 2,
                drawer.inside_floor}},
       .normal = {0, 0, 1},
       .along = {1, 0, 0},
       .cuts = {},
       .holes = {}});
  for (const char* side : {".side.left", ".side.right"}) {
    work.joinery.join("rebate", inner_front, drawer.name + side);
    work.joinery.join("rebate", back, drawer.name + side);
    work.joinery.join("groove", bottom, drawer.name + side);
  }
  work.joinery.join("groove", bottom, inner_front);
  work.joinery.join("groove", bottom, back);
}

/// Fastens the front from inside the drawer, under the finger pull; returns the screws.
std::vector<std::string> screw_front(const GalleyWork& work, const Drawer& drawer) {
  constexpr double from_corner = 30.0;
  constexpr double two_rows = 60.0;  // lower drawers get one row
  const double t = work.plan.drawer->thickness;
  const double height = drawer.rim - drawer.inside_floor;
  const double left = drawer.box.lo.x + t + from_corner;
  const double right = drawer.box.hi.x - t - from_corner;
  const std::vector<double> columns =
      right - left > from_corner ? std::vector{left, right} : std::vector{(left + right) / 2};
  const std::vector<double> rows =
      height >= two_rows ? std::vector{1.0 / 3, 2.0 / 3} : std::vector{0.5};
  std::vector<std::string> screws;
  for (const double part : rows) {
    for (const double x : columns) {
      screws.push_back(work.joinery.screw(
          {.name = drawer.name + ".front.screw_" + std::to_string(screws.size() + 1),
           .field = "panel_screw",
           .at = {x, drawer.box.lo.y + t, drawer.inside_floor + part * height},
           .direction = {0, -1, 0},
           .from = drawer.name + ".inner_front",
           .into = drawer.name + ".front"}));
    }
  }
  work.joinery.join("screwed", drawer.name + ".inner_front", drawer.name + ".front", screws);
  return screws;
}

/// Both slides; returns what moves with the drawer.
std::vector<std::string> add_slides(const GalleyWork& work, const GalleyColumn& column,
                                    const Slide& slide, const Drawer& drawer) {
  const std::string side = drawer.name + ".side.";
  return add_slide_pair(
      work, {.name = drawer.name,
             .title = drawer.title,
             .slide = &slide,
             .front = work.plan.carcass_front,
             .middle = drawer.box.lo.z + std::max(slide.height / 2, drawer.box.size().z / 3),
             .rider_front = drawer.box.lo.y,
             .rider_back = drawer.box.hi.y,
             .screw = "slide_screw",
             .sides = {{{column.left, column.left_board, side + work.side(true), !column.left_free},
                        {column.right, column.right_board, side + work.side(false),
                         !column.right_free}}}});
}

void make_drawer(const GalleyWork& work, const GalleyColumn& column, const Slide& slide,
                 Drawer drawer) {
  if (!size_box(work, column, slide, drawer)) return;
  const auto handle = add_front(work, column, drawer);
  add_sides(work, drawer);
  add_ends_and_bottom(work, column, drawer);
  if (handle) pass_handle(work, drawer, *handle);

  Motion motion{
      .id = work.shop.id(drawer.name),
      .title = drawer.title,
      .kind = MotionKind::translation,
      .parts = {},
      .axis = work.request.direction_to_van({0, -1, 0}),
      .origin = work.shop.to_van(Vec3{column.left, work.plan.front_face, drawer.front_bottom}),
      .travel = slide.travel,
      .required = slide.travel,
      .gives_way = work.gives_way(column)};
  for (const char* part :
       {".front", ".side.left", ".side.right", ".inner_front", ".back", ".bottom"}) {
    motion.parts.push_back(work.shop.id(drawer.name + part));
  }
  if (handle) motion.parts.push_back(work.shop.id(handle->name));
  for (const auto& more : {screw_front(work, drawer), add_slides(work, column, slide, drawer)}) {
    motion.parts.insert(motion.parts.end(), more.begin(), more.end());
  }
  work.shop.made().motions.push_back(std::move(motion));
}

}  // namespace

void make_drawers(const GalleyWork& work, const GalleyColumn& column) {
  const bool slides = work.names(column, "drawers", "slide");
  const bool screws = work.names(column, "drawers", "slide_screw");
  const auto heights = front_heights(work, column);
  if (!slides || !screws || !heights) return;
  const Slide& slide =
      bought(work.request, work.request.catalogue.slides, work.request.fields.text("slide"));
  if (!slide_fits(work, column, slide)) return;

  double top = work.plan.fronts_top;
  for (std::size_t i = 0; i < heights->size(); ++i) {
    const std::string number = std::to_string(i + 1);
    const double bottom = top - (*heights)[i];
    make_drawer(work, column, slide,
                {.name = "drawer." + column.key + "_" + number,
                 .title = "Drawer " + number + " of " + column.key,
                 .front_bottom = bottom,
                 .front_top = top,
                 .box = {}});
    top = bottom - work.plan.gap;
  }
}

}  // namespace ribbay::detail
