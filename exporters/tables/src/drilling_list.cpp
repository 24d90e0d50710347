#include "base/tolerance.hpp"
#include "shape/role_words.hpp"
#include "table_text.hpp"
#include "tables/csv.hpp"
#include "tables/tables.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

namespace ribbay {

namespace {

using namespace detail;

/// One hole as the driller sets it.
struct Row {
  std::string face;
  double along = 0.0;
  double across = 0.0;
  double angle = 0.0;  ///< from square to the face, degrees
  const Bore* bore = nullptr;
};

/// The way of the bore as one of six, and how far it leans from it, degrees.
std::pair<Vec3, double> square_way(Vec3 direction) {
  int axis = 0;
  for (int i = 1; i < 3; ++i) {
    if (std::abs(direction[i]) > std::abs(direction[axis]) + kSame) axis = i;
  }
  Vec3 way{};
  way[axis] = direction[axis] < 0.0 ? -1.0 : 1.0;
  return {way, std::acos(std::min(1.0, dot(way, direction))) * 180.0 / std::numbers::pi};
}

/// A member lies along z: holes in its ends from the middle of its section, others from its start.
Row member_row(const Bore& bore) {
  const auto [way, angle] = square_way(bore.direction);
  if (way.z != 0.0)
    return {way.z > 0.0 ? "start end" : "far end", bore.at.x, bore.at.y, angle, &bore};
  const char* face = way.x < 0.0   ? "side +x"
                     : way.x > 0.0 ? "side -x"
                     : way.y < 0.0 ? "side +y"
                                   : "side -y";
  return {face, bore.at.z, way.x != 0.0 ? bore.at.y : bore.at.x, angle, &bore};
}

/// A panel lies in x and y: from its lower left corner as its face is seen; in its edges from the
/// corner, and from the back.
Row panel_row(const Bore& bore, const Box& blank) {
  const auto [way, angle] = square_way(bore.direction);
  const Vec3 at = bore.at - blank.lo;
  if (way.z != 0.0) return {way.z < 0.0 ? "face" : "back", at.x, at.y, angle, &bore};
  if (way.x != 0.0) return {way.x > 0.0 ? "left edge" : "right edge", at.y, at.z, angle, &bore};
  return {way.y > 0.0 ? "lower edge" : "upper edge", at.x, at.z, angle, &bore};
}

}  // namespace

OutputFile drilling_list(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  Rows rows = {{"mark", "title", "stock", "count", "face", "along" + unit, "across" + unit,
                "diameter" + unit, "depth" + unit, "through", "thread", "lean_deg", "for"}};
  for (const PartType& type : part_types(layout)) {
    const Part& part = layout.parts[type.parts.front()];
    // What is folded has its holes on its flat pattern, told by its drawing.
    if (part.kind == PartKind::folded || part.shape->prisms.size() != 1) continue;
    const Prism& prism = part.shape->prisms.front().prism;
    Shape blank{{{{.section = prism.section, .height = prism.height}, {}}}};
    const Box box = bounds(blank);
    std::vector<Row> holes;
    for (const Bore& bore : prism.bores)
      holes.push_back(part.kind == PartKind::member ? member_row(bore) : panel_row(bore, box));
    const auto place = [](const Row& row) {
      const auto whole = [](double mm) { return std::lround(mm / kPrinted); };
      return std::tuple{row.face, whole(row.along), whole(row.across), -whole(row.bore->diameter),
                        whole(row.bore->depth)};
    };
    std::ranges::stable_sort(holes, {}, place);
    for (const Row& hole : holes) {
      const Bore& bore = *hole.bore;
      rows.push_back({type.mark, part.title, part.stock.key, std::to_string(type.parts.size()),
                      hole.face, size_text(hole.along, show), size_text(hole.across, show),
                      size_text(bore.diameter, show),
                      bore.through ? std::string() : size_text(bore.depth, show),
                      bore.through ? "yes" : "", bore.thread,
                      hole.angle > 0.01 ? rounded_text(hole.angle, 2) : std::string(),
                      name(bore.role)});
    }
  }
  return {"shop/drilling.csv", csv_text(rows), "every hole to drill, by part and face"};
}

}  // namespace ribbay
