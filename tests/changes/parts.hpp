#pragma once

#include "changes/changes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

/// Parts written by hand.
namespace ribbay::testing {

/// A rectangle of sheet, 12 mm thick.
inline PartRecord panel(double length, double width, std::string id = "box/side") {
  PartRecord part;
  part.id = std::move(id);
  part.module = part.id.substr(0, part.id.find('/'));
  part.title = "Side";
  part.mark = "P1";
  part.kind = PartKind::panel;
  part.stock = "birch_12";
  part.material = "birch";
  part.length = length;
  part.width = width;
  part.thickness = 12.0;
  part.finished = {length, width, 12.0};
  part.height = 12.0;
  part.outline = {rectangle({0, 0}, {length, width}), {}};
  return part;
}

inline PartRecord member(double length, std::string stock = "tube_40") {
  PartRecord part;
  part.id = "box/rail";
  part.module = "box";
  part.title = "Rail";
  part.mark = "M1";
  part.kind = PartKind::member;
  part.stock = std::move(stock);
  part.material = "aluminium";
  part.length = length;
  part.finished = {40, 40, length};
  part.height = length;
  return part;
}

/// Through the sheet, from its face.
inline Bore hole(double x, double y, double diameter = 5.0) {
  return {{x, y, 12.0}, {0, 0, -1}, diameter, 12.0, true, "", BoreRole::screw};
}

/// Into the sheet, from its face.
inline Bore blind_hole(double x, double y, double depth, std::string thread = "") {
  return {{x, y, 12.0}, {0, 0, -1}, 5.0, depth, false, std::move(thread), BoreRole::pilot};
}

/// Across a member 40 mm thick.
inline Bore cross_hole(double z, double diameter = 9.0) {
  return {{20, 0, z}, {-1, 0, 0}, diameter, 40.0, true, "", BoreRole::bolt};
}

inline PartRecord with(PartRecord part, std::vector<Bore> bores) {
  part.bores = std::move(bores);
  return part;
}

inline PartRecord named(PartRecord part, std::string id) {
  part.id = std::move(id);
  return part;
}

/// A build of these parts. A square tube may be turned in every way, an angle about its diagonal.
inline BuildRecord build(std::vector<PartRecord> parts) {
  BuildRecord record{"build", {}};
  record.parts.project = "test";
  record.parts.parts = std::move(parts);
  std::ranges::sort(record.parts.parts, {}, &PartRecord::id);
  record.parts.sections["tube_40"] = {{40, 40}, "tube", {0, 1, 2, 3, 4, 5, 6, 7}};
  record.parts.sections["angle_40"] = {{40, 40}, "angle", {0, 5}};
  return record;
}

inline const PartChange* change_of(const ChangeNotice& notice, const std::string& id) {
  const auto found = std::ranges::find(notice.parts, id, &PartChange::id);
  return found == notice.parts.end() ? nullptr : &*found;
}

}  // namespace ribbay::testing
