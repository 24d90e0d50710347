#include "base/tolerance.hpp"
#include "drawings/member_study.hpp"
#include "drawings/panel_study.hpp"
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
  Bore bore{};
};

/// How far the direction leans from the nearest of the six that are square to the part, degrees.
double lean(Vec3 direction) {
  double most = 0.0;
  for (int axis = 0; axis < 3; ++axis) most = std::max(most, std::abs(direction[axis]));
  return std::acos(std::min(1.0, most)) * 180.0 / std::numbers::pi;
}

/// A hole, and its mouth as a row of its own.
void add(std::vector<Row>& rows, Row row, const Drilling& hole) {
  row.angle = lean(hole.bore.direction);
  row.bore = hole.bore;
  rows.push_back(row);
  if (!hole.sunk) return;
  row.bore = *hole.sunk;
  rows.push_back(row);
}

/// Holes in ends from the middle of the section, others from end 1 and the lower edge of their
/// face.
std::vector<Row> member_rows(const MemberStudy& study) {
  std::vector<Row> rows;
  for (const MemberHole& hole : study.holes)
    add(rows, {study.faces[hole.face].letter, hole.along, hole.across}, hole);
  for (const Drilling& hole : study.end_holes) {
    const Bore& bore = hole.bore;
    add(rows, {bore.direction.z > 0.0 ? "end 1" : "end 2", bore.at.x, bore.at.y}, hole);
  }
  return rows;
}

/// As on the part's sheet: from the lower left corner of face A; in edges along them, and from face
/// A. Of what is bent on the blank.
std::vector<Row> panel_rows(const PanelStudy& study) {
  std::vector<Row> rows;
  for (const PanelHole& hole : study.holes) {
    const bool upright = hole.face == "left" || hole.face == "right";
    const bool edge = hole.face.size() > 1;
    add(rows, {hole.face, upright ? hole.at.y : hole.at.x, edge ? hole.z : hole.at.y}, hole);
  }
  return rows;
}

}  // namespace

OutputFile drilling_list(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  Rows rows = {{"mark", "title", "stock", "count", "face", "along" + unit, "across" + unit,
                "diameter" + unit, "depth" + unit, "through", "thread", "lean_deg", "for"}};
  for (const PartType& type : part_types(layout)) {
    const Part& part = layout.parts[type.parts.front()];
    std::vector<Row> holes = part.kind == PartKind::member ? member_rows(study_member(part))
                                                           : panel_rows(study_panel(layout, part));
    const auto place = [](const Row& row) {
      const auto whole = [](double mm) { return std::lround(mm / kPrinted); };
      return std::tuple{row.face, whole(row.along), whole(row.across), -whole(row.bore.diameter),
                        whole(row.bore.depth)};
    };
    std::ranges::stable_sort(holes, {}, place);
    for (const Row& hole : holes) {
      const Bore& bore = hole.bore;
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
