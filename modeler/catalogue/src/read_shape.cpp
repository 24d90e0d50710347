#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "catalogue/shape_files.hpp"
#include "imports/read_body.hpp"
#include "reader.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <optional>
#include <vector>

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

struct ShapeUnit {
  const char* name;
  double mm;
};
constexpr std::array<ShapeUnit, 4> kUnits{{{"mm", 1.0}, {"cm", 10.0}, {"m", 1000.0}, {"in", 25.4}}};

const ShapeUnit& unit_called(const std::string& name) {
  return *std::ranges::find_if(kUnits, [&](const ShapeUnit& unit) { return unit.name == name; });
}

/// Shapes of one thing in two descriptions are alike when neither is larger than the other by more
/// than this: the units differ by 2.54 at least.
constexpr double kAlike = 1.5;
/// Nothing that is bought is smaller or larger than this over all, mm (common practice, no source).
constexpr double kSmallest = 10.0;
constexpr double kLargest = 5000.0;

/// What the entry says of the size of an equipment beside its shape: its boxes.
Box box_of_entry(const Record& record) {
  Box all;
  for (const auto& [name, box] : record.tables("box")) {
    all.add(box.vec3("at"));
    all.add(box.vec3("at") + box.vec3("size"));
  }
  return all;
}

/// The places that the entry tells: of feet, ports and fixing holes.
std::vector<Vec3> places_of_entry(const Record& record) {
  std::vector<Vec3> all;
  for (const char* table : {"feet", "port", "fixing"}) {
    for (const auto& [name, entry] : record.tables(table)) all.push_back(entry.vec3("at"));
  }
  return all;
}

std::string size_words(Vec3 size) {
  const auto mm = [](double value) { return length_text(value, LengthStyle::millimetres); };
  return mm(size.x) + " x " + mm(size.y) + " x " +
         value_text(size.z, Unit::mm, LengthStyle::millimetres);
}

/// How much larger one size is than another over all, at least 1.
double unlike(Vec3 a, Vec3 b) {
  const double ratio = length(a) / length(b);
  return std::max(ratio, 1.0 / ratio);
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

using ReadInUnit = std::function<Result<std::shared_ptr<const ClosedMesh>>(std::optional<double>)>;

/// What is wrong when the shape of an entry, `box` as it was read (nullopt: it could not be), has
/// another size than the entry tells: the unit in which both agree, where there is one.
std::optional<Finding> wrong_unit(const Record& record, const std::optional<Box>& box,
                                  const ReadInUnit& read) {
  const Box boxes = box_of_entry(record);
  const bool has_boxes = !record.tables("box").empty();
  const std::vector<Vec3> places = places_of_entry(record);
  const auto agrees = [&](const Box& shape) {
    if (has_boxes) return unlike(shape.size(), boxes.size()) <= kAlike;
    // A little outside is a wrong place, not a wrong unit.
    const double margin = (kAlike - 1.0) * length(shape.size());
    return std::ranges::all_of(places, [&](Vec3 p) { return near(shape, Box{p, p}, margin); });
  };
  if (!has_boxes && places.empty()) {
    if (!box) return std::nullopt;
    const Vec3 size = box->size();
    const double largest = std::max({size.x, size.y, size.z});
    if (largest >= kSmallest && largest <= kLargest) return std::nullopt;
    return input_error("import.odd_size", {}).with("measured", size_words(size));
  }
  if (box && agrees(*box)) return std::nullopt;
  for (const ShapeUnit& unit : kUnits) {
    const auto other = read(unit.mm);
    // Places lie in any shape that is large enough: one far too large says nothing.
    if (!other || !agrees((*other)->box)) continue;
    Box said = boxes;
    said.add(Vec3{});  // the corner that places count from
    for (const Vec3 place : places) said.add(place);
    const bool far_too_large =
        !has_boxes && length((*other)->box.size()) > 20 * length(said.size());
    if (far_too_large) continue;
    return input_error("import.wrong_unit", {})
        .with("measured", box ? size_words(box->size()) : "nothing that can be read")
        .with("said", size_words(has_boxes ? boxes.size() : said.size()))
        .with("what", has_boxes ? "its boxes measure" : "its feet, ports and holes reach over")
        .with("unit", unit.name);
  }
  return std::nullopt;
}

}  // namespace

/// The real shape of equipment, from its file; null where none is given or it cannot be had.
ShapePtr CatalogueReader::read_shape(const std::string& key, const Record& record) {
  if (!record.has("shape")) return nullptr;
  const std::string& path = record.text("shape");
  const auto tell = [&](const Finding& finding, const char* field) {
    Finding& told = findings_.emplace_back(finding);
    told.place = record.place(record.has(field) ? field : "shape");
    told.subjects = {key};
  };
  const auto file = std::ranges::find(document_.inputs, path, &InputFile::path);
  if (!states_body_unit(path) && !record.has("shape_unit")) {
    tell(input_error("import.no_unit", {}), "shape");
    return nullptr;
  }
  if (file == document_.inputs.end()) return nullptr;  // reported when it was not found
  const bool y_up = record.has("shape_up") ? record.text("shape_up") == "y" : y_is_up(path);
  const Vec3 at = record.has("shape_at") ? record.vec3("shape_at") : Vec3{};
  const int turns = static_cast<int>(record.number("shape_turned"));
  const auto read = [&](std::optional<double> unit) -> Result<std::shared_ptr<const ClosedMesh>> {
    const auto mesh = read_body(file->bytes, path, unit);
    if (!mesh) return fail(mesh.error());
    return placed(**mesh, at, y_up, turns);
  };
  const auto told = record.has("shape_unit")
                        ? std::optional(unit_called(record.text("shape_unit")).mm)
                        : std::nullopt;
  const auto mesh = read(told);
  if (const auto finding =
          wrong_unit(record, mesh ? std::optional((*mesh)->box) : std::nullopt, read)) {
    tell(*finding, "shape_unit");
    return nullptr;
  }
  if (!mesh) {
    for (const Finding& finding : mesh.error()) tell(finding, "shape");
    return nullptr;
  }
  return std::make_shared<const Shape>(Shape{{}, *mesh});
}

}  // namespace detail

}  // namespace ribbay
