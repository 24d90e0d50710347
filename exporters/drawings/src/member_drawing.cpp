#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "drawings/face_note.hpp"
#include "drawings/holes.hpp"
#include "drawings/lettering.hpp"
#include "drawings/member_study.hpp"
#include "drawings/tolerance_note.hpp"
#include "drawings/views.hpp"
#include "part_drawing.hpp"
#include "shape/facets.hpp"
#include "shape/role_words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace ribbay::detail {

TitleBlock part_title(const PageSet& set, const PartType& type) {
  const Part& part = set.layout.parts[type.parts.front()];
  TitleBlock block = title_block(set);
  block.title = titles_of(set.layout, type);
  block.subtitle = say("mark.of_module",
                       {{"mark", type.mark}, {"module", module_title(set.layout, part.module)}});
  block.number = document_number(set, type.mark);
  block.type = say("document.part");
  block.material = material_title(set.layout, part.material);
  block.stock = stock_title(set.layout, part);
  // The field holds about two short words; the notes say it in full, face by face.
  constexpr double room = 25.0;
  const std::string finish = finish_text(set.layout, part);
  block.finish = text_width(finish, 1.8) > room ? say("see_notes") : finish;
  block.mass = mass_text(part.mass_kg);
  block.quantity = std::to_string(type.parts.size());
  return block;
}

std::string part_ids(const PageSet& set, const PartType& type) {
  constexpr std::size_t most = 20;
  std::vector<std::string> ids;
  for (std::size_t i = 0; i < type.parts.size() && i < most; ++i)
    ids.push_back(set.layout.parts[type.parts[i]].id);
  std::string all = join(ids, ", ");
  if (type.parts.size() > most)
    all = say("and_more", {{"some", all}, {"count", std::to_string(type.parts.size() - most)}});
  return say("mark.parts",
             {{"mark", type.mark}, {"count", std::to_string(type.parts.size())}, {"parts", all}});
}

namespace {

constexpr double kBreakGap = 3.0;      // on paper, between the two sides of a break
constexpr double kMargin = 9.0;        // on paper, kept on both sides of a hole and at the ends
constexpr std::size_t kManyHoles = 6;  // more go to a table

/// What is kept of a length so that it fits into `room` on paper: the longest stretches without a
/// hole are broken out. Empty: no break is needed.
std::optional<Kept> kept_lengths(const MemberStudy& m, double scale, double room) {
  if (m.length * scale <= room) return Kept{};
  const double margin = kMargin / scale;
  std::vector<std::pair<double, double>> busy{{0.0, margin}};
  std::vector<double> along;
  for (const MemberHole& h : m.holes) along.push_back(h.along);
  std::ranges::sort(along);
  for (const double z : along) busy.emplace_back(z - margin, z + margin);
  busy.emplace_back(m.length - margin, m.length);
  struct Gap {
    double from, to;
  };
  std::vector<Gap> gaps;
  double end = 0.0;
  for (const auto& [a, b] : busy) {
    if (a > end + 2.0 * kBreakGap / scale) gaps.push_back({end, a});
    end = std::max(end, b);
  }
  std::ranges::stable_sort(
      gaps, [](const Gap& a, const Gap& b) { return a.to - a.from > b.to - b.from; });
  double excess = m.length - room / scale;
  std::vector<Gap> removed;
  for (const Gap& g : gaps) {
    if (excess <= 0.0) break;
    excess += kBreakGap / scale;  // the break itself takes room
    const double take = std::min(excess, g.to - g.from);
    const double middle = (g.from + g.to) / 2;
    removed.push_back({middle - take / 2, middle + take / 2});
    excess -= take;
  }
  if (excess > kSame) return std::nullopt;
  std::ranges::sort(removed, {}, &Gap::from);
  Kept kept;
  double from = 0.0;
  for (const Gap& g : removed) {
    kept.emplace_back(from, g.from);
    from = g.to;
  }
  kept.emplace_back(from, m.length);
  return kept;
}

/// Lengths of the member to paper, breaks closed up.
AxisMap length_map(const MemberStudy& m, const Kept& kept, double left, double scale) {
  if (kept.empty()) return axis_map(0.0, left, scale);
  AxisMap map;
  double paper = left;
  for (const auto& [from, to] : kept) {
    map.knots.emplace_back(from, paper);
    paper += (to - from) * scale;
    map.knots.emplace_back(to, paper);
    paper += kBreakGap;
  }
  (void)m;
  return map;
}

double length_on_paper(const MemberStudy& m, const Kept& kept, double scale) {
  if (kept.empty()) return m.length * scale;
  double sum = kBreakGap * static_cast<double>(kept.size() - 1);
  for (const auto& [from, to] : kept) sum += (to - from) * scale;
  return sum;
}

/// Notes on holes that are not in a table: one leader per kind of hole and face.
bool add_hole_notes(Drawing& d, const MemberStudy& m, std::size_t face, const ViewPlace& place,
                    LengthStyle show, double letters) {
  std::vector<const MemberHole*> left;
  for (const MemberHole& h : m.holes) {
    if (h.face == face) left.push_back(&h);
  }
  while (!left.empty()) {
    const MemberHole* first = left.front();
    const auto alike = [&](const MemberHole* h) { return same_drill(*h, *first); };
    const auto count = std::ranges::count_if(left, alike);
    const std::string text =
        (count > 1 ? std::to_string(count) + " × " : "") + hole_text(*first, show);
    const double r = first->bore.diameter / 2;
    const Vec2 edge{place.x.paper(first->along) +
                        0.7 * r * (place.x.paper(first->along + 1) - place.x.paper(first->along)),
                    place.y.paper(first->across + 0.7 * r)};
    if (!add_callout(d, edge, text, letters, kGroup50.thin(), {place.outline})) return false;
    std::erase_if(left, alike);
  }
  return true;
}

Table hole_table(const MemberStudy& m, LengthStyle show) {
  const MouthColumn mouths({m.holes.begin(), m.holes.end()});
  Table table;
  table.columns = {{say("column.hole"), 14},
                   {say("column.face"), 13},
                   {say("column.from_end_1"), 26, Align::right},
                   {say("column.from_edge"), 24, Align::right},
                   {say("column.drill"), 18, Align::right},
                   {say("column.depth"), 20, Align::right}};
  if (mouths.wanted()) table.columns.push_back({mouths.heading(), 23, Align::right});
  table.columns.push_back({say("column.for"), 24});
  for (const MemberHole& h : m.holes) {
    table.rows.push_back({h.id, m.faces[h.face].letter, length_text(h.along, show),
                          length_text(h.across, show), diameter_text(h.bore, show),
                          depth_text(h.bore, show)});
    if (mouths.wanted()) table.rows.back().push_back(mouths.cell(h, show));
    table.rows.back().push_back(name(h.bore.role));
  }
  return table;
}

/// The end seen from end 1 (first angle) or from end 2 (third angle), beside the first length view.
bool add_end_view(Drawing& d, const PageSet& set, const Part& part, const MemberStudy& m,
                  double scale, Vec2 corner, const DimensionStyle& style) {
  const ViewFrame view = end_frame(m, set.layout.project.first_angle);
  const Drawn drawn = end_lines(part, view, scale);
  const ViewPlace place = open_view(d, place_view(bounds_of(drawn), scale, corner));
  add_view(d, drawn, place, kGroup50.visible(), kGroup50.hidden());
  const Rect picture = bounds_of(drawn);
  AxisPlan across{ViewSide::bottom, picture.lo.x, picture.hi.x, true, {}};
  AxisPlan up{ViewSide::right, picture.lo.y, picture.hi.y, true, {}};
  if (!add_axis_dimensions(d, place, {across, up}, style)) return false;
  // Letters of the faces that have views of their own.
  for (const MemberFace& face : m.faces) {
    if (m.holes.empty()) break;
    const Vec2 out{dot(face.normal, view.right), dot(face.normal, view.up)};
    const Vec2 at = place.outline.centre() + Vec2{out.x * (place.outline.width() / 2 + 3.0),
                                                  out.y * (place.outline.height() / 2 + 3.0)};
    if (!add_label(d, at, face.letter, style.height, 8.0)) return false;
  }
  if (!m.end_holes.empty()) {
    const Drilling& hole = m.end_holes.front();
    const Bore& bore = hole.bore;
    const bool both = std::ranges::any_of(
        m.end_holes, [&](const Drilling& h) { return h.bore.direction.z * bore.direction.z < 0; });
    const std::string text = say(both                   ? "hole.both_ends"
                                 : bore.direction.z > 0 ? "hole.end_1"
                                                        : "hole.end_2",
                                 {{"hole", hole_text(hole, set.layout.project.show)}});
    const Vec2 at{place.x.paper(dot(bore.at, view.right)), place.y.paper(dot(bore.at, view.up))};
    if (!add_callout(d, at + Vec2{0, -0.5 * bore.diameter * scale}, text, style.height,
                     kGroup50.thin(), {place.outline})) {
      return false;
    }
  }
  return true;
}

}  // namespace

std::optional<Drawing> member_drawing(const PageSet& set, const PartType& type,
                                      const Attempt& attempt) {
  const Part& part = set.layout.parts[type.parts.front()];
  const MemberStudy m = study_member(part);
  const LengthStyle show = set.layout.project.show;
  const bool tabled = m.holes.size() > kManyHoles || (attempt.tabled && !m.holes.empty());
  const DimensionStyle style{.height = attempt.letters, .show = show};

  const Vec3 size = m.box.size();
  const double section = std::max(size.x, size.y);
  const double scale = smaller_scale(scale_below(std::min(1.0, 26.0 / section)), attempt.smaller);
  TitleBlock block = part_title(set, type);
  block.scale = scale_text(scale);
  Drawing d = open_page(set, attempt.page, block);
  const Rect area = usable_area(d, set.not_for_cutting);
  const double floor = title_area(d).hi.y;

  // Length views at the left, the end view at the right of the first.
  const double depth = std::abs(dot(size, m.faces.front().normal));
  const double end_room = 18.0 + depth * scale + 18.0;
  const double left = area.lo.x + 18.0;
  const auto kept = kept_lengths(m, scale, area.hi.x - left - end_room);
  if (!kept) return std::nullopt;
  const AxisMap along = length_map(m, *kept, left, scale);
  double top = area.hi.y - 22.0;
  const FacetOptions options{
      .chord = 0.03 / scale, .coarse = scale < 0.13, .bores = true, .smallest = 0.7 / scale};
  const std::vector<Facets> body{facets(*part.shape, options)};
  std::vector<ViewPlace> places;
  for (std::size_t f = 0; f < m.faces.size(); ++f) {
    const MemberFace& face = m.faces[f];
    const double height = (face.high - face.low) * scale;
    const ViewPlace place =
        open_view(d, {{{left, top - height}, {left + length_on_paper(m, *kept, scale), top}},
                      along,
                      axis_map(0.0, top - height, scale)});
    // The picture's own coordinates, shifted so that end 1 and the lower edge are 0.
    Drawn drawn = visible_lines(body, face.view, {.shortest = 0.15 / scale});
    const Vec2 origin{m.box.lo.z, face.low};
    for (DrawnLine& l : drawn.lines) {
      l.a = l.a - origin;
      l.b = l.b - origin;
    }
    for (DrawnArc& a : drawn.arcs) a.centre = a.centre - origin;
    add_view(d, drawn, place, kGroup50.visible(), kGroup50.hidden(), {}, *kept);
    AxisPlan plan{ViewSide::bottom, 0.0, m.length, f == 0, {}};
    AxisPlan across{ViewSide::left, 0.0, face.high - face.low, false, {}};
    for (const MemberHole& h : m.holes) {
      if (h.face != f || tabled) continue;
      plan.positions.push_back(h.along);
      across.positions.push_back(h.across);
    }
    if (!add_axis_dimensions(d, place, {plan, across}, style)) return std::nullopt;
    top = place.outline.lo.y - depth_of(plan, style) - 20.0;
    places.push_back(place);
  }
  if (!add_end_view(d, set, part, m, scale,
                    {places.front().outline.hi.x + 18.0, places.front().outline.lo.y}, style)) {
    return std::nullopt;
  }
  for (std::size_t f = 0; f < m.faces.size(); ++f) {
    const ViewPlace& place = places[f];
    for (const MemberHole& h : m.holes) {
      if (h.face != f) continue;
      const Vec2 at{along.paper(h.along), place.y.paper(h.across)};
      const double reach = h.bore.diameter / 2 * scale + 1.5;
      add_line(d, at - Vec2{reach, 0}, at + Vec2{reach, 0}, kGroup50.centre());
      add_line(d, at - Vec2{0, reach}, at + Vec2{0, reach}, kGroup50.centre());
    }
    if (!m.holes.empty() && !add_label(d, {place.outline.lo.x + 10.0, place.outline.hi.y + 1.0},
                                       say("face", {{"face", m.faces[f].letter}}), 3.5, 30.0)) {
      return std::nullopt;
    }
    if (!add_label(d, {place.outline.lo.x - 1.5, place.outline.hi.y + 1.0}, say("end_1"), 2.5,
                   15.0))
      return std::nullopt;
    if (!tabled && !add_hole_notes(d, m, f, place, show, attempt.letters)) return std::nullopt;
    std::vector<Vec2> spots;
    for (const MemberHole& h : m.holes) {
      if (h.face == f) spots.push_back({along.paper(h.along), place.y.paper(h.across)});
    }
    for (const MemberHole& h : m.holes) {
      if (h.face != f || !tabled) continue;
      const Vec2 at{along.paper(h.along), place.y.paper(h.across)};
      constexpr double letters = 2.5;
      if (!add_label(d, at, h.id, letters, 14.0, spots) && !add_label(d, at, h.id, letters, 14.0))
        return std::nullopt;
    }
  }

  std::vector<std::string> notes{part_ids(set, type)};
  if (!m.holes.empty()) notes.push_back(say("note.member_holes"));
  const std::string end = way_text(set.layout, type, {0, 0, -1});
  const std::string face =
      m.holes.empty() ? std::string() : way_text(set.layout, type, m.faces.front().normal);
  if (!end.empty())
    notes.push_back(face.empty() ? say("note.member_end", {{"way", end}})
                                 : say("note.member_face", {{"way", end}, {"face", face}}));
  // The cone of a head: ISO 7721, from memory.
  if (std::ranges::any_of(m.holes, is_countersunk)) notes.push_back(say("note.countersinks"));
  if (std::string off = tolerance_note(set.layout, part); !off.empty())
    notes.push_back(std::move(off));
  if (!kept->empty()) notes.push_back(say("note.broken"));
  const double notes_width = title_area(d).width() - 8.0;
  const double notes_top = floor + 4.0 + notes_height(notes, notes_width, 2.5);
  add_notes(d, notes, {title_area(d).lo.x + 4.0, notes_top}, notes_width, 2.5);
  double used = notes_top;
  if (tabled) {
    const Table table = hole_table(m, show);
    used = notes_top + 4.0 + table.total_height();
    const Rect box{{title_area(d).lo.x + 4.0, notes_top + 4.0},
                   {title_area(d).lo.x + 4.0 + table.width(), used}};
    if (!is_free(d, box)) return std::nullopt;
    add_table(d, table, {box.lo.x, box.hi.y});
  }
  if (top < used - 22.0) return std::nullopt;
  return d;
}

}  // namespace ribbay::detail
