#include "corner_details.hpp"

#include "base/tolerance.hpp"
#include "base/wording.hpp"
#include "detail_circle.hpp"
#include "drawings/lettering.hpp"
#include "drawings/sheet.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

constexpr double kTogether = 4.0;  // on paper
constexpr double kApart = 9.0;     // on paper, in a detail: a name of 2.5 finds room beside each
constexpr double kMargin = 8.0;    // around the corners of a detail, on paper
constexpr double kMostRadius = 32.0;
constexpr double kLeastMark = 2.5;  // radius of the circle in the view, on paper
constexpr double kTitle = 7.0;      // below a detail

using Corners = std::vector<CornerMark>;

/// The same distances and radii, corner by corner, in the one order or the other: alike, whichever
/// way they are turned or mirrored.
bool alike(const Corners& corners, const CornerGroup& a, const CornerGroup& b) {
  if (a.count != b.count) return false;
  const auto same = [](double x, double y) { return std::abs(x - y) < 100.0 * kSame; };
  const auto matches = [&](auto other) {
    for (std::size_t i = 0; i < a.count; ++i) {
      const CornerMark& one = corners[a.at(i)];
      const CornerMark& two = corners[other(i)];
      if (!same(one.radius, two.radius)) return false;
      for (std::size_t k = 0; k < i; ++k) {
        if (!same(length(one.at - corners[a.at(k)].at), length(two.at - corners[other(k)].at)))
          return false;
      }
    }
    return true;
  };
  return matches([&](std::size_t i) { return b.at(i); }) ||
         matches([&](std::size_t i) { return b.at(b.count - 1 - i); });
}

Rect around(const Corners& corners, const CornerGroup& group) {
  const Vec2 first = corners[group.first].at;
  Rect r{first, first};
  for (std::size_t i = 1; i < group.count; ++i)
    r = united(r, {corners[group.at(i)].at, corners[group.at(i)].at});
  return r;
}

/// The smallest standard scale that tells the corners apart, or the largest that has room.
double scale_for(const Corners& corners, const CornerGroup& group, double half) {
  double nearest = 1e300;
  for (std::size_t i = 1; i < group.count; ++i)
    nearest = std::min(nearest, length(corners[group.at(i)].at - corners[group.at(i - 1)].at));
  const double most = scale_below((kMostRadius - kMargin) / half);
  for (const double scale : {0.2, 0.5, 1.0, 2.0, 5.0, 10.0}) {
    if (scale >= most || nearest * scale >= kApart) return std::min(scale, most);
  }
  return most;
}

std::string title_of(const CornerDetail& detail) {
  std::string corners = name_of(detail.group);
  if (detail.alike > 0)
    corners = say("detail.alike", {{"corners", corners}, {"count", std::to_string(detail.alike)}});
  return say("detail.title",
             {{"letter", detail.letter}, {"scale", scale_text(detail.scale)}, {"kind", corners}});
}

}  // namespace

std::vector<CornerGroup> corner_groups(const Corners& corners, double scale) {
  std::vector<CornerGroup> groups;
  const std::size_t all = corners.size();
  const auto near = [&](std::size_t a, std::size_t b) {
    return length(corners[a % all].at - corners[b % all].at) * scale < kTogether;
  };
  // From where one ends, so that none is taken apart.
  std::size_t start = 0;
  while (start < all && near(start, start + all - 1)) ++start;
  if (start == all) start = 0;
  for (std::size_t i = start; i < start + all;) {
    std::size_t end = i + 1;
    while (end < start + all && near(end, i) && near(end, end - 1)) ++end;
    if (end - i >= 3)
      groups.push_back({i % all, end - i, all});
    else
      end = i + 1;
    i = end;
  }
  return groups;
}

std::string corner_name(std::size_t index) {
  return "C" + std::to_string(index + 1);
}

std::string name_of(const CornerGroup& group) {
  return say("detail.corners", {{"first", corner_name(group.first)},
                                {"last", corner_name(group.at(group.count - 1))}});
}

std::vector<CornerDetail> corner_details(const PanelStudy& panel, double scale) {
  std::vector<CornerDetail> details;
  for (const CornerGroup& group : corner_groups(panel.corners, scale)) {
    const auto known = std::ranges::find_if(details, [&](const CornerDetail& detail) {
      return alike(panel.corners, detail.group, group);
    });
    if (known != details.end()) {
      ++known->alike;
      continue;
    }
    const Rect r = around(panel.corners, group);
    const double half = std::hypot(r.width(), r.height()) / 2;
    if (half < kSame) continue;
    const double larger = scale_for(panel.corners, group, half);
    if (larger < 2.0 * scale) continue;
    details.push_back({std::string(1, static_cast<char>('D' + details.size())), group, 0,
                       r.centre(), half + kMargin / larger, larger});
  }
  return details;
}

bool add_corner_marks(Drawing& d, const std::vector<CornerDetail>& details, const ViewPlace& face) {
  return std::ranges::all_of(details, [&](const CornerDetail& detail) {
    return add_detail_mark(d, {face.x.paper(detail.at.x), face.y.paper(detail.at.y)},
                           std::max(detail.radius * face.scale(), kLeastMark), detail.letter);
  });
}

bool add_corner_details(Drawing& d, const Part& part, const PanelStudy& panel,
                        const std::vector<CornerDetail>& details, const Rect& area) {
  constexpr double letters = 3.5;
  for (const CornerDetail& detail : details) {
    const double radius = detail.radius * detail.scale;
    const std::string title = title_of(detail);
    const Vec2 size{std::max(2.0 * radius, text_width(title, letters)), 2.0 * radius + kTitle};
    const auto spot = free_spot(d, area, size);
    if (!spot) return false;
    const Vec2 middle = *spot + Vec2{size.x / 2, kTitle + radius};
    const Vec2 half{detail.radius, detail.radius};
    const ViewPlace place = open_view(d, place_view({detail.at - half, detail.at + half},
                                                    detail.scale, middle - half * detail.scale));
    Drawing whole;
    add_view(whole, face_lines(part, panel, detail.scale), place, kGroup50.visible(),
             kGroup50.hidden());
    const auto paper = [&](Vec2 at) { return Vec2{place.x.paper(at.x), place.y.paper(at.y)}; };
    for (const BendMark& bend : panel.bends)
      add_line(whole, paper(bend.a), paper(bend.b), kGroup50.thin());
    add_within_circle(d, whole, middle, radius, place.view);
    std::vector<Vec2> all;
    for (const CornerMark& corner : panel.corners) all.push_back(paper(corner.at));
    for (std::size_t i = 0; i < detail.group.count; ++i) {
      const std::size_t corner = detail.group.at(i);
      if (!add_label(d, all[corner], corner_name(corner), 2.5, 8.0, all)) return false;
    }
    add_text(d, title, {middle.x, spot->y + 1.5}, letters, Align::centre);
  }
  return true;
}

}  // namespace ribbay::detail
