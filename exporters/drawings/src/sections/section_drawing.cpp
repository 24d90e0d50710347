#include "sections/section_drawing.hpp"

#include "balloons.hpp"
#include "base/wording.hpp"
#include "detail_circle.hpp"
#include "drawings/lettering.hpp"
#include "drawings/views.hpp"
#include "module_contents.hpp"
#include "sections/cut_open.hpp"
#include "sections/cutting_line.hpp"
#include "sections/detail_sizes.hpp"
#include "sections/details.hpp"
#include "sections/section_ink.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay::detail {

namespace {

constexpr double kTitle = 8.0;          // under a figure, on paper
constexpr double kLongStrip = 40.0;     // on paper
constexpr double kAside = 4.0;          // beside a section without balloons
constexpr double kSizes = 13.0;         // beside a detail, for its sizes
constexpr double kDetailRadius = 20.0;  // on paper
constexpr double kDetailLarger = 5.0;   // than the section, at least
constexpr double kSmallScale = 0.099;   // below it twice as much: five times would show no joint
constexpr std::size_t kMostDetails = 4;

Rect bounds_of(const Outlines& outlines) {
  Rect r{{1e300, 1e300}, {-1e300, -1e300}};
  for (const auto& loop : outlines) {
    for (const Vec2 p : loop) {
      r.lo = {std::min(r.lo.x, p.x), std::min(r.lo.y, p.y)};
      r.hi = {std::max(r.hi.x, p.x), std::max(r.hi.y, p.y)};
    }
  }
  return r;
}

/// A point on the longest stretch of the area along a level line through its largest part: its
/// middle, or in a long strip near the end that is nearer to a side of the picture, so that no
/// leader runs along.
Vec2 anchor_in(const Outlines& outlines, const Rect& picture, double scale) {
  Rect box;
  double largest = 0.0;
  for (const auto& loop : outlines) {
    const Rect r = bounds_of(Outlines{loop});
    if (r.width() * r.height() > largest) box = r;
    largest = std::max(largest, r.width() * r.height());
  }
  const double y = box.centre().y;
  std::vector<double> at;
  for (const auto& loop : outlines) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i];
      const Vec2 b = loop[(i + 1) % loop.size()];
      if ((a.y <= y) != (b.y <= y)) at.push_back(a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y));
    }
  }
  std::ranges::sort(at);
  Vec2 best = box.centre();
  double longest = -1.0;
  for (std::size_t i = 1; i < at.size(); ++i) {
    const Vec2 middle{(at[i - 1] + at[i]) / 2, y};
    const double size = at[i] - at[i - 1];
    if (size <= longest || !inside(outlines, middle)) continue;
    longest = size;
    best = middle;
    if (size * scale < kLongStrip) continue;
    const bool left = at[i - 1] - picture.lo.x <= picture.hi.x - at[i];
    best.x = left ? at[i - 1] + kLongStrip / 4 / scale : at[i] - kLongStrip / 4 / scale;
  }
  return best;
}

/// A section, with balloons on what is cut or without; nothing when there is no room.
std::optional<ViewPlace> add_section(Drawing& d, const PageSet& set, const Module& module,
                                     const Section& section, char letter, double scale,
                                     double page_scale, const Rect& area, bool balloons_too) {
  const auto references = references_of(set, module);
  const Rect picture = ribbay::bounds_of(section.drawn);
  std::vector<std::pair<std::string, Vec2>> marks;
  std::set<std::string> named;
  for (const CutFace& face : section.faces) {
    const auto reference = references.find(face.part);
    if (!balloons_too || reference == references.end() || !named.insert(reference->second).second)
      continue;
    marks.emplace_back(reference->second, anchor_in(face.outlines, picture, scale));
  }
  const double column = std::ceil(static_cast<double>(marks.size()) / 2.0) * kBalloonPitch;
  const double height = std::max(picture.height() * scale, column);
  const double beside = balloons_too ? kBalloonRoom : kAside;
  const auto spot =
      free_spot(d, area, {picture.width() * scale + 2 * beside, height + kTitle + 2.0});
  if (!spot) return std::nullopt;
  const Vec2 corner = *spot + Vec2{beside, kTitle + (height - picture.height() * scale) / 2};
  const ViewPlace place = open_view(d, place_view(picture, scale, corner));
  std::vector<Balloon> balloons;
  for (const auto& [mark, at] : marks)
    balloons.push_back({mark, {place.x.paper(at.x), place.y.paper(at.y)}});
  if (!add_balloons(d, place.outline, balloons, spot->y + kTitle, spot->y + kTitle + height,
                    kGroup35.thin()))
    return std::nullopt;
  add_section_ink(d, set.layout, section, place);
  const std::string name{letter, '-', letter};
  add_text(d, scale == page_scale ? name : figure_title(name, scale),
           {place.outline.centre().x, spot->y + 1.5}, 5.0, Align::centre);
  return place;
}

bool same(Vec3 a, Vec3 b) {
  return length(a - b) < 1e-9;
}

/// A small view of the whole module with the planes that are seen edge on in it. False when there
/// is no room.
bool add_key_view(Drawing& d, const PageSet& set, const std::vector<std::size_t>& parts,
                  const ViewFrame& view, const std::string& title,
                  const std::vector<SectionPlane>& planes, double scale, const Rect& area) {
  const SceneBodies scene = scene_of(set.layout, parts, scale);
  const Drawn drawn = visible_lines(scene.bodies, view, {.shortest = 0.3 / scale});
  const Rect picture = ribbay::bounds_of(drawn);
  std::vector<CuttingLine> lines;
  int upright = 0;
  int across = 0;
  for (const SectionPlane& plane : planes) {
    const Vec3 eye = plane.view.towards_eye();
    CuttingLine line{.letter = plane.letter,
                     .look = Vec2{dot(eye, view.right), dot(eye, view.up)} * -1.0};
    line.upright = std::abs(line.look.x) > 0.5;
    line.tier = line.upright ? upright++ : across++;
    lines.push_back(line);
  }
  // Lines end outside of the view, and the arrows of one at its edge stand beside it.
  const Vec2 room{cutting_room(across), cutting_room(upright)};
  const Vec2 size = Vec2{picture.width(), picture.height()} * scale + room * 2.0 + Vec2{0, kTitle};
  const auto spot = free_spot(d, area, size);
  if (!spot) return false;
  const ViewPlace place = open_view(d, place_view(picture, scale, *spot + room + Vec2{0, kTitle}));
  add_view(d, drawn, place, kGroup35.thin(), kGroup35.hidden(), owners_of(d, set.layout, scene));
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const Vec3 at = planes[i].view.towards_eye() * planes[i].at;
    lines[i].at =
        lines[i].upright ? place.x.paper(dot(at, view.right)) : place.y.paper(dot(at, view.up));
    add_cutting_line(d, place.outline, lines[i]);
  }
  add_text(d, figure_title(title, scale), {place.outline.centre().x, spot->y + 1.5}, 3.5,
           Align::centre);
  d.reserved.push_back({*spot, *spot + size});
  return true;
}

/// A detail with its title below, with its sizes where they find room; false when it finds none
/// itself. `given` holds the sizes that stand on the page already.
bool add_measured(Drawing& d, const Layout& layout, const Section& section,
                  const DetailPlace& detail, const std::string& title, double scale,
                  const Rect& area, std::set<std::string>& given) {
  const DimensionStyle style{.height = 2.5,
                             .first = 6.0,
                             .pitch = 6.5,
                             .pen = kGroup35.thin(),
                             .show = layout.project.show};
  for (const double room : {kSizes, 0.0}) {
    const double across = 2 * (kDetailRadius + room);
    const double width = std::max(across, text_width(title, 3.5));
    const auto spot = free_spot(d, area, {width, across + kTitle});
    if (!spot) continue;
    const Vec2 middle = *spot + Vec2{width / 2, kTitle + across / 2};
    std::set<std::string> told = given;
    std::vector<LinearDimension> sizes;
    if (room > 0.0) {
      sizes = detail_sizes(layout, section, detail, kDetailRadius / scale,
                           detail_view(detail, middle, kDetailRadius, scale), told);
      if (sizes.empty()) continue;
    }
    Drawing trial = d;
    const ViewPlace place =
        add_detail(trial, layout, section, detail, middle, kDetailRadius, scale);
    if (!sizes.empty() && !add_dimensions(trial, place, sizes, {}, style)) continue;
    add_text(trial, title, {middle.x, spot->y + 1.5}, 3.5, Align::centre);
    d = std::move(trial);
    given = std::move(told);
    return true;
  }
  return false;
}

/// Details of the joints, as many as find room.
void add_details(Drawing& d, const Layout& layout, const Module& module, const ModuleCuts& cuts,
                 const std::vector<Section>& sections, const std::vector<ViewPlace>& places,
                 double scale, const Rect& area) {
  const double larger =
      scale_below(scale * (scale < kSmallScale ? 2.0 : 1.0) * kDetailLarger * 1.001);
  const double in_van = kDetailRadius / larger;
  std::set<std::string> given;
  for (const DetailPlace& detail : detail_places(layout, module, sections, in_van, kMostDetails)) {
    const SectionPlane& plane = cuts.planes()[detail.section];
    const std::string title = say("detail.title", {{"letter", std::string(1, detail.letter)},
                                                   {"scale", scale_text(larger)},
                                                   {"kind", detail.kind}});
    Drawing trial = d;
    const ViewPlace& place = places[detail.section];
    if (!add_detail_mark(trial, {place.x.paper(detail.at.x), place.y.paper(detail.at.y)},
                         in_van * scale, std::string(1, detail.letter)))
      continue;
    // Only what may reach into the circle.
    std::vector<std::size_t> near;
    for (const std::size_t i : cuts.parts()) {
      const Rect seen = seen_box(bounds(layout.parts[i]), plane.view);
      if (overlap(seen, grown({detail.at, detail.at}, in_van))) near.push_back(i);
    }
    const Section section = cut_open(layout, near, cuts.styles(), plane, larger);
    if (!add_measured(trial, layout, section, detail, title, larger, area, given)) return;
    d = std::move(trial);
  }
}

std::vector<std::size_t> all_parts(const ModuleContents& contents) {
  std::vector<std::size_t> parts;
  for (const auto* list : {&contents.fixed, &contents.movable, &contents.equipment})
    parts.insert(parts.end(), list->begin(), list->end());
  std::ranges::sort(parts);
  return parts;
}

/// Half of a module may be taken away: a quick no only to what is far too large.
bool may_fit(const ModuleCuts& cuts, double scale, const Rect& area) {
  return std::ranges::all_of(cuts.planes(), [&](const SectionPlane& plane) {
    const Rect seen = seen_box(cuts.box(), plane.view);
    return seen.width() * scale / 1.5 <= area.width() &&
           seen.height() * scale / 1.5 <= area.height();
  });
}

}  // namespace

ModuleCuts::ModuleCuts(const Layout& layout, const Module& module, std::vector<SectionPlane> planes)
    : layout_(layout),
      planes_(std::move(planes)),
      parts_(all_parts(contents_of(layout, module))),
      styles_(hatch_styles(layout, parts_)) {
  for (const std::size_t i : parts_) box_.add(bounds(layout.parts[i]));
}

const Section& ModuleCuts::at(std::size_t plane, double scale) {
  const auto [found, fresh] = sections_.try_emplace({plane, scale});
  if (fresh) {
    const auto [scene, new_scale] = scenes_.try_emplace(scale);
    if (new_scale) scene->second = scene_of(layout_, parts_, scale);
    found->second = detail::cut_open(layout_, scene->second, styles_, planes_[plane], scale);
  }
  return found->second;
}

std::optional<Drawing> section_drawing(const PageSet& set, const Module& module, ModuleCuts& cuts,
                                       PageSize page, double scale) {
  TitleBlock block = title_block(set);
  block.title = module.title.empty() ? module.name : module.title;
  block.subtitle = say(cuts.planes().size() == 1 ? "title.section" : "title.sections");
  block.number = document_number(set, module.name + "-X");
  block.type = say("document.assembly");
  block.material = block.stock = block.finish = say("see_parts_list");
  block.scale = scale_text(scale);
  block.quantity = "1";
  Drawing d = open_page(set, page, block);
  const Rect area = usable_area(d, set.not_for_cutting);

  if (!add_sections(d, set, module, cuts, scale, scale, area, true)) return std::nullopt;
  return d;
}

bool add_sections(Drawing& d, const PageSet& set, const Module& module, ModuleCuts& cuts,
                  double scale, double page_scale, const Rect& area, bool balloons) {
  if (!may_fit(cuts, scale, area)) return false;
  const Layout& layout = set.layout;
  const std::vector<SectionPlane>& planes = cuts.planes();
  std::vector<Section> sections;
  std::vector<ViewPlace> places;
  for (std::size_t i = 0; i < planes.size(); ++i) {
    sections.push_back(cuts.at(i, scale));
    const auto place = add_section(d, set, module, sections.back(), planes[i].letter, scale,
                                   page_scale, area, balloons);
    if (!place) return false;
    places.push_back(*place);
  }
  // The front view shows upright planes that look aside, and level ones; the view from above the
  // rest.
  const Looks looks = looks_at(module.front, layout.project.first_angle);
  std::vector<SectionPlane> in_front;
  std::vector<SectionPlane> from_above;
  for (const SectionPlane& plane : planes) {
    const bool head_on = same(plane.view.towards_eye(), looks.front.towards_eye());
    (head_on ? from_above : in_front).push_back(plane);
  }
  const double small = scale_below(scale >= 0.2 ? scale / 4 : scale / 2);
  const auto add_key = [&](const ViewFrame& view, const std::string& title,
                           const std::vector<SectionPlane>& shown) {
    return shown.empty() || add_key_view(d, set, cuts.parts(), view, title, shown, small, area);
  };
  if (!add_key(looks.front, say("view.front"), in_front) ||
      !add_key(looks.top, say("view.top"), from_above))
    return false;
  add_details(d, layout, module, cuts, sections, places, scale, area);
  return true;
}

}  // namespace ribbay::detail
