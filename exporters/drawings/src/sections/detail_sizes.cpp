#include "sections/detail_sizes.hpp"

#include "base/tolerance.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace ribbay::detail {

namespace {

constexpr double kLeast = 0.5;    // what is smaller is play, not depth, mm
constexpr double kWithin = 0.97;  // of the circle's radius: ends of sizes are well inside

/// True when an edge of the face lies along the line, level or upright, where the box ends.
bool has_edge(const CutFace& face, bool upright, double at) {
  for (const auto& loop : face.outlines) {
    for (std::size_t i = 0; i < loop.size(); ++i) {
      const Vec2 a = loop[i];
      const Vec2 b = loop[(i + 1) % loop.size()];
      const double off = upright ? std::max(std::abs(a.x - at), std::abs(b.x - at))
                                 : std::max(std::abs(a.y - at), std::abs(b.y - at));
      if (off < kSame && length(b - a) > kLeast) return true;
    }
  }
  return false;
}

/// One part that sits in another: `enters` goes on outside of `host` on one side.
struct Seat {
  const CutFace* enters = nullptr;
  const CutFace* host = nullptr;
  Rect common;
  bool upright = false;  ///< it enters along y
  double sign = 1.0;     ///< on which side of the host the rest of it lies
};

bool is_board(const Part& part) {
  return part.kind == PartKind::panel || part.kind == PartKind::plank;
}

/// Whether the host is solid about the mouth of the seat: a board beside what it takes in (dado,
/// rebate) or where the two overlap (half-lap), a member on both sides (slot).
bool holds(const Layout& layout, const Seat& seat) {
  constexpr double beside = 2.0;  // further than a slot is wider than its panel, mm
  const Rect c = seat.common;
  const double half = seat.upright ? c.height() / 2 : c.width() / 2;
  const Vec2 out = seat.upright ? Vec2{0, seat.sign} : Vec2{seat.sign, 0};
  const Vec2 mouth = c.centre() + out * (half - std::min(half, 1.0));
  const double reach = (seat.upright ? c.width() : c.height()) / 2;
  const auto solid = [&](double off) {
    return inside(seat.host->outlines, mouth + (seat.upright ? Vec2{off, 0} : Vec2{0, off}));
  };
  if (solid(reach + beside) && solid(-reach - beside)) return true;
  if (!is_board(layout.parts[seat.host->part])) return false;
  return solid(reach + beside) || solid(-reach - beside) || solid(reach / 2) || solid(-reach / 2);
}

std::optional<Seat> seat_of(const CutFace& one, const CutFace& other) {
  const Rect a = bounds_of(one);
  const Rect b = bounds_of(other);
  const Rect common{{std::max(a.lo.x, b.lo.x), std::max(a.lo.y, b.lo.y)},
                    {std::min(a.hi.x, b.hi.x), std::min(a.hi.y, b.hi.y)}};
  if (common.width() < kLeast || common.height() < kLeast) return std::nullopt;
  // The whole thickness of `one` is taken in, and it goes on out of `other` at one end.
  const auto enters = [&](const Rect& in, const Rect& host, bool upright) {
    const double lo = upright ? in.lo.y : in.lo.x;
    const double hi = upright ? in.hi.y : in.hi.x;
    const double from = upright ? host.lo.y : host.lo.x;
    const double to = upright ? host.hi.y : host.hi.x;
    const bool taken_in =
        upright ? common.width() > in.width() - kSame : common.height() > in.height() - kSame;
    if (!taken_in || (lo < from - kLeast) == (hi > to + kLeast)) return 0.0;
    return hi > to + kLeast ? 1.0 : -1.0;
  };
  for (const bool upright : {false, true}) {
    if (const double sign = enters(a, b, upright); sign != 0.0)
      return Seat{&one, &other, common, upright, sign};
  }
  return std::nullopt;
}

/// Where the circle's edge is, seen from `at` on one axis, on paper.
double rim(const ViewPlace& place, double along, double sign, bool upright) {
  const Vec2 middle = place.outline.centre();
  const double radius = place.outline.width() / 2;
  const double off = along - (upright ? middle.x : middle.y);
  const double reach = std::sqrt(std::max(0.0, radius * radius - off * off));
  return (upright ? middle.y : middle.x) + sign * reach;
}

}  // namespace

std::vector<LinearDimension> detail_sizes(const Layout& layout, const Section& section,
                                          const DetailPlace& detail, double radius,
                                          const ViewPlace& place, std::set<std::string>& given) {
  std::map<std::string, const CutFace*> face_of;
  for (const CutFace& face : section.faces) face_of[layout.parts[face.part].id] = &face;
  std::optional<Seat> best;
  for (const Joint& joint : layout.joints) {
    for (std::size_t i = 0; i + 1 < joint.parts.size(); ++i) {
      const auto one = face_of.find(joint.parts[i]);
      const auto other = face_of.find(joint.parts[i + 1]);
      if (one == face_of.end() || other == face_of.end()) continue;
      for (const bool turned : {false, true}) {
        const auto seat =
            turned ? seat_of(*other->second, *one->second) : seat_of(*one->second, *other->second);
        if (!seat || !is_board(layout.parts[seat->enters->part]) || !holds(layout, *seat)) continue;
        if (!best || length(seat->common.centre() - detail.at) <
                         length(best->common.centre() - detail.at) - kSame)
          best = seat;
      }
    }
  }
  std::vector<LinearDimension> sizes;
  if (!best) return sizes;
  const auto in_circle = [&](Vec2 p) { return length(p - detail.at) < kWithin * radius; };
  const Rect c = best->common;
  const bool up = best->upright;
  const std::string enters = layout.parts[best->enters->part].id;
  const std::string host = layout.parts[best->host->part].id;
  const auto give = [&](const std::string& what, const LinearDimension& size) {
    if (given.insert(what).second) sizes.push_back(size);
  };
  const AxisMap& along = up ? place.y : place.x;  // of the way in
  const AxisMap& across = up ? place.x : place.y;
  // How deep: from the host's face to the end of what enters, on the side below or to the left.
  const double face = best->sign > 0.0 ? (up ? c.hi.y : c.hi.x) : (up ? c.lo.y : c.lo.x);
  const double end = best->sign > 0.0 ? (up ? c.lo.y : c.lo.x) : (up ? c.hi.y : c.hi.x);
  const double low = up ? c.lo.x : c.lo.y;
  const Vec2 seat_corner = up ? Vec2{low, end} : Vec2{end, low};
  if (in_circle(seat_corner) && has_edge(*best->enters, !up, end)) {
    give(enters + "|" + host, {up ? ViewSide::left : ViewSide::bottom, face, end,
                               rim(place, along.paper(face), -1.0, !up), across.paper(low)});
  }
  // How thick is what enters, on the side where the rest of it lies.
  const Rect box = bounds_of(*best->enters);
  const double thin_lo = up ? box.lo.x : box.lo.y;
  const double thin_hi = up ? box.hi.x : box.hi.y;
  if (thin_hi - thin_lo < radius && has_edge(*best->enters, up, thin_lo) &&
      has_edge(*best->enters, up, thin_hi) &&
      in_circle(up ? Vec2{thin_lo, face} : Vec2{face, thin_lo}) &&
      in_circle(up ? Vec2{thin_hi, face} : Vec2{face, thin_hi})) {
    const double out = best->sign;
    give(enters, {up ? (out > 0.0 ? ViewSide::top : ViewSide::bottom)
                     : (out > 0.0 ? ViewSide::right : ViewSide::left),
                  thin_lo, thin_hi, rim(place, across.paper(thin_lo), out, up),
                  rim(place, across.paper(thin_hi), out, up)});
  }
  // How thick is the host, at the other axis.
  const Rect around = bounds_of(*best->host);
  const double host_lo = up ? around.lo.y : around.lo.x;
  const double host_hi = up ? around.hi.y : around.hi.x;
  const double middle = up ? c.centre().x : c.centre().y;
  if (host_hi - host_lo < radius && has_edge(*best->host, !up, host_lo) &&
      has_edge(*best->host, !up, host_hi) &&
      in_circle(up ? Vec2{middle, host_lo} : Vec2{host_lo, middle}) &&
      in_circle(up ? Vec2{middle, host_hi} : Vec2{host_hi, middle})) {
    give(host,
         {up ? ViewSide::right : ViewSide::top, host_lo, host_hi,
          rim(place, along.paper(host_lo), 1.0, !up), rim(place, along.paper(host_hi), 1.0, !up)});
  }
  return sizes;
}

}  // namespace ribbay::detail
