#include "base/tolerance.hpp"
#include "custom.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace ribbay::detail {

namespace {

/// A rectangular flat: its size, and the names by which its sides are found.
struct NamedFlat {
  std::string name;
  Vec2 size;
};

struct Line {
  Vec2 a;
  Vec2 b;
};

/// A side of a rectangle with the rectangle to its right, as Flat wants it.
Line side_line(std::string_view side, Vec2 size) {
  if (side == "lower") return {{size.x, 0}, {0, 0}};
  if (side == "upper") return {{0, size.y}, {size.x, size.y}};
  if (side == "left") return {{0, 0}, {0, size.y}};
  return {{size.x, size.y}, {size.x, 0}};
}

/// Makes the flats of one bent part.
class Bending {
 public:
  Bending(CustomWork& work, const std::string& part, const Sheet& sheet)
      : work_{work}, part_{part}, sheet_{sheet} {
    folded_.thickness = sheet.thickness;
    folded_.k_factor = sheet.k_factor;
  }

  bool add(const std::string& name, const Record& fields) {
    Flat flat;
    Vec2 size;
    if (flats_.empty()) {
      if (!fields.has("size")) return refuse("custom.first_flat", fields.place(), name);
      size = fields.vec2("size");
    } else if (const auto hung = hang(name, fields, flat)) {
      size = *hung;
    } else {
      return false;
    }
    flat.outline = {rectangle({0, 0}, size), {}};
    if (!open(name, fields, flat)) return false;
    flats_.push_back({name, size});
    folded_.flats.push_back(std::move(flat));
    return true;
  }

  const FoldedSheet& folded() const { return folded_; }

 private:
  bool refuse(const char* code, const Place& place, const std::string& name) {
    Finding finding = work_.fault(code, place, part_);
    work_.shop.find(std::move(finding).with("flat", name));
    return false;
  }

  /// Hangs a flat on an earlier one and returns its size.
  std::optional<Vec2> hang(const std::string& name, const Record& fields, Flat& flat) {
    const auto on = std::ranges::find(flats_, fields.text_or("on", ""), &NamedFlat::name);
    if (on == flats_.end() || !fields.has("reach")) {
      refuse("custom.flat_on", fields.place(fields.has("on") ? "on" : "reach"), name);
      return std::nullopt;
    }
    flat.angle = fields.number("angle");
    flat.radius = fields.number_if("radius").value_or(sheet_.bend_radius);
    if (std::abs(flat.angle) < kSame) {
      refuse("custom.bend_angle", fields.place("angle"), name);
      return std::nullopt;
    }
    if (sheet_.bend_radius <= 0.0) {
      refuse("custom.not_foldable", fields.place(), sheet_.key);
      return std::nullopt;
    }
    if (flat.radius < sheet_.bend_radius - kSame) {
      Finding finding = work_.fault("custom.bend_radius", fields.place("radius"), part_);
      work_.shop.find(std::move(finding)
                          .with("flat", name)
                          .with("stock", sheet_.key)
                          .with("measured", flat.radius, Unit::mm)
                          .with("required", sheet_.bend_radius, Unit::mm));
      return std::nullopt;
    }
    Line line = side_line(fields.text("side"), on->size);
    const double length_of_side = length(line.b - line.a);
    const Vec2 along = normalized(line.b - line.a);
    line.a = line.a + along * fields.number("inset");
    line.b = line.b - along * fields.number("inset");
    if (2 * fields.number("inset") > length_of_side - kContact) {
      refuse("custom.no_length", fields.place("inset"), name);
      return std::nullopt;
    }
    flat.parent = static_cast<int>(on - flats_.begin());
    flat.a = line.a;
    flat.b = line.b;
    return Vec2{length(line.b - line.a), fields.number("reach")};
  }

  /// Cuts the openings of a flat.
  bool open(const std::string& name, const Record& fields, Flat& flat) {
    bool whole = true;
    for (const auto& [key, hole] : fields.tables("openings")) {
      if (hole.has("size") == hole.has("diameter")) {
        whole = refuse("custom.opening_size", hole.place(), name);
        continue;
      }
      const Vec2 at = hole.vec2("at");
      const Loop loop = hole.has("diameter")
                            ? circle(at, hole.number("diameter"))
                            : rectangle(at, at + hole.vec2("size"), hole.number("radius"));
      if (!fault(Region{loop, {}}).empty() ||
          !fault(Region{flat.outline.outer, {reversed(loop)}}).empty()) {
        whole = refuse("custom.cut_out_outside", hole.place("at"), name);
        continue;
      }
      flat.cuts.push_back({loop, 0.0, sheet_.thickness, CutRole::cut_out});
    }
    return whole;
  }

  CustomWork& work_;
  const std::string& part_;
  const Sheet& sheet_;
  FoldedSheet folded_;
  std::vector<NamedFlat> flats_;
};

void make_one(CustomWork& work, const std::string& name, const Record& fields) {
  const Vec3 face = way(fields.text("faces"));
  const Vec3 along = way(fields.text("along"));
  if (std::abs(dot(face, along)) > 0.5) {
    work.shop.find(work.fault("custom.grain_across", fields.place("along"), name)
                       .with("found", fields.text("along"))
                       .with("faces", fields.text("faces")));
    return;
  }
  const Sheet& sheet = entry(work.request.catalogue.sheets, fields.text("sheet"));
  Bending bending(work, name, sheet);
  for (const auto& [flat_name, flat] : fields.tables("flats")) {
    if (!bending.add(flat_name, flat)) return;
  }
  for (const Copy& copy : work.copies(name, fields)) {
    work.shop.add(BentBoard{.name = copy.name,
                            .title = part_title(fields, name),
                            .sheet = &sheet,
                            .frame = frame_zx(fields.vec3("at") + copy.shift, face, along),
                            .sheet_metal = bending.folded()});
  }
}

}  // namespace

void make_bent(CustomWork& work) {
  work.make_each("bent", make_one);
}

Field bent_field() {
  return keyed_field(
             "bent",
             {reference_field("sheet", "sheet").needed().means("what it is cut and folded from"),
              vector_field("at").needed().means(
                  "the lower left corner of its first flat, on the back of the sheet"),
              way_field("faces", "the way the face of its first flat looks", "up"),
              way_field("along", "the way the first size of its first flat runs", "right"),
              keyed_field(
                  "flats",
                  {text_field("on").means("the flat above it in the file that it is bent from; all "
                                          "but the first"),
                   choice_field("side", {"lower", "right", "upper", "left"})
                       .otherwise("upper")
                       .means("the side of that flat; its own lower side is then the bend"),
                   flat_field("size").above(0).means("of the first: along, across"),
                   length_field("reach").above(0).means("of all others: from the bend outwards"),
                   length_field("inset").otherwise("0 mm").at_least(0).means(
                       "by this it is narrower than that side, at each end"),
                   angle_field("angle")
                       .otherwise("90 deg")
                       .at_least(-170 * std::numbers::pi / 180)
                       .at_most(170 * std::numbers::pi / 180)
                       .means("it is bent by this towards the face; negative: towards the back"),
                   length_field("radius").at_least(0).means(
                       "inside of the bend; by default the sheet's smallest"),
                   keyed_field("openings",
                               {flat_field("at").needed().means(
                                    "the lower left corner of a rectangle, the middle of a circle"),
                                flat_field("size").above(0).means("of a rectangle"),
                                length_field("diameter").above(0).means("of a circle"),
                                length_field("radius").otherwise("0 mm").at_least(0).means(
                                    "rounds the corners of a rectangle")})
                       .means("cut before it is bent")})
                  .needed()
                  .items(1, 50)
                  .means("its flats; the first lies where at says"),
              part_title_field(), copies_field()})
      .means("pieces of sheet metal, cut flat and folded");
}

}  // namespace ribbay::detail
