#include "catalogue/shape_files.hpp"
#include "imports/read_body.hpp"
#include "reader.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay {

Findings add_shape_files(Document& document, const ReadFile& read) {
  Findings findings;
  const Node* equipment = document.root.find("equipment");
  if (equipment == nullptr || equipment->table() == nullptr) return findings;
  for (const Entry& entry : *equipment->table()) {
    const Node* named = entry.value.find("shape");
    if (named == nullptr || named->text() == nullptr) continue;  // the reader says what is wrong
    const std::string path = path_beside(named->place, *named->text());
    if (std::ranges::find(document.inputs, path, &InputFile::path) != document.inputs.end()) {
      continue;
    }
    Result<std::string> bytes = read(path);
    if (bytes) {
      document.inputs.push_back({path, std::move(*bytes)});
      continue;
    }
    for (Finding& finding : bytes.error()) {
      finding.place = named->place;
      findings.push_back(std::move(finding));
    }
  }
  return findings;
}

namespace detail {

namespace {

double unit_length(const std::string& unit) {
  return unit == "m" ? 1000.0 : unit == "cm" ? 10.0 : unit == "in" ? 25.4 : 1.0;
}

/// Turned from the axes of its file to those of equipment, where z is up: first y up to z up, then
/// by quarter turns counter-clockwise seen from above.
Vec3 turned(Vec3 p, bool y_up, int quarter_turns) {
  if (y_up) p = {p.x, -p.z, p.y};
  for (int i = 0; i < quarter_turns; ++i) p = {-p.y, p.x, p.z};
  return p;
}

/// The same body with other axes, its lowest corner at `at`. Nothing about it can have become
/// wrong.
std::shared_ptr<const ClosedMesh> placed(const ClosedMesh& mesh, Vec3 at, bool y_up,
                                         int quarter_turns) {
  std::vector<Vec3> points;
  Box box;
  for (const Vec3 p : mesh.points) {
    points.push_back(turned(p, y_up, quarter_turns));
    box.add(points.back());
  }
  for (Vec3& p : points) p = p - box.lo + at;
  return close_mesh(std::move(points), mesh.triangles).value();
}

}  // namespace

/// The real shape of equipment, from its file; null where none is given or it cannot be had.
ShapePtr CatalogueReader::read_shape(const std::string& key, const Record& record) {
  if (!record.has("shape")) return nullptr;
  const std::string& path = record.text("shape");
  const auto tell = [&](const Finding& finding) {
    Finding& told = findings_.emplace_back(finding);
    told.place = record.place("shape");
    told.subjects = {key};
  };
  const auto file = std::ranges::find(document_.inputs, path, &InputFile::path);
  const auto stated = stated_body_unit(path);
  if (!stated && !record.has("shape_unit")) {
    tell(input_error("import.no_unit", {}));
    return nullptr;
  }
  const double unit =
      record.has("shape_unit") ? unit_length(record.text("shape_unit")) : stated.value_or(1.0);
  if (file == document_.inputs.end()) return nullptr;  // reported when it was not found
  const auto mesh = read_body(file->bytes, path, unit);
  if (!mesh) {
    for (const Finding& finding : mesh.error()) tell(finding);
    return nullptr;
  }
  const bool y_up = record.has("shape_up") ? record.text("shape_up") == "y" : y_is_up(path);
  const Vec3 at = record.has("shape_at") ? record.vec3("shape_at") : Vec3{};
  return std::make_shared<const Shape>(
      Shape{{}, placed(**mesh, at, y_up, static_cast<int>(record.number("shape_turned")))});
}

}  // namespace detail

}  // namespace ribbay
