#include "placement.hpp"

#include "base/tolerance.hpp"
#include "walls.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace ribbay::detail {

namespace {

bool looks_along_van(std::string_view faces) {
  return faces == "rear" || faces == "front";
}

struct Range {
  double from = 0.0;
  double to = 0.0;
};

class Placer {
 public:
  explicit Placer(const PlacementContext& context)
      : c_{context}, path_{"module." + context.module} {}

  std::optional<Box> run() {
    const auto faces = c_.evaluator.text(path_, "faces");
    const auto place = c_.evaluator.table(path_, "place");
    if (!faces) return std::nullopt;  // reported with the record
    const Record nothing;
    const Record& where = place ? *place : nothing;
    if (!place && c_.evaluator.has(path_, "place")) return std::nullopt;

    if (!makes_sense(where)) return std::nullopt;

    const bool lengthwise = looks_along_van(*faces);  // its depth lies along x
    const char* x_size = lengthwise ? "depth" : "width";
    const char* y_size = lengthwise ? "width" : "depth";

    const bool hangs = where.given("under");  // its height then follows from x and y
    auto z = hangs ? std::optional(Range{}) : vertical(where);
    const auto x = along_van(where, x_size);
    if (!x || !z) return std::nullopt;
    const auto y = across_van(where, y_size, *x, at_walls(*z));
    if (!y) return std::nullopt;
    if (hangs) z = under_roof(where, *x, *y);
    if (!z) return std::nullopt;
    return Box{{x->from, y->from, z->from}, {x->to, y->to, z->to}};
  }

 private:
  std::optional<double> size(const char* field) {
    if (c_.evaluator.has(path_, field)) return c_.evaluator.number(path_, field);
    if (c_.kind.default_size != nullptr) {
      const int axis = field == std::string_view("width")   ? 0
                       : field == std::string_view("depth") ? 1
                                                            : 2;
      return c_.kind.default_size({c_.evaluator, path_, c_.catalogue}, axis);
    }
    return std::nullopt;
  }

  /// The size, or nullopt after saying that it is needed.
  std::optional<double> needed_size(const char* field) {
    const auto value = size(field);
    if (!value && !c_.evaluator.has(path_, field)) {
      if (c_.kind.default_size == nullptr || !failed_default(field)) missing(field, "a length");
    }
    if (value && *value <= kSame) {
      missing(field, "a length greater than 0");
      return std::nullopt;
    }
    return value;
  }

  /// A default that depends on a field that failed has been reported by that field.
  bool failed_default(const char*) const { return has_errors(c_.evaluator.findings()); }

  void missing(const std::string& field, const std::string& expected) {
    Finding finding = input_error("layout.needs_size", module_place());
    finding.subjects = {c_.module};
    c_.report(std::move(finding.with("field", field).with("expected", expected)));
  }

  Place module_place() const { return c_.evaluator.place(path_); }

  static std::vector<std::string> given(const Record& where, std::vector<std::string> fields) {
    std::erase_if(fields, [&](const std::string& field) { return !where.given(field); });
    return fields;
  }

  /// Which of `fields` is given; reports when it is not exactly one (or none, when that is
  /// allowed).
  std::optional<std::string> one_of(const Record& where, const std::vector<std::string>& fields,
                                    bool none_allowed) {
    const std::vector<std::string> said = given(where, fields);
    if (said.size() == 1) return said.front();
    if (said.empty() && none_allowed) return std::string();
    Finding finding = input_error(said.empty() ? "layout.no_place" : "layout.two_places",
                                  said.empty() ? module_place() : where.place(said.back()));
    finding.subjects = {c_.module};
    std::vector<std::string> places;
    for (const std::string& field : said) {
      places.push_back(field + " (line " + std::to_string(where.place(field).line) + ")");
    }
    finding.with("fields", join(fields, ", ")).with("given", join(places, " and "));
    c_.report(std::move(finding));
    return std::nullopt;
  }

  /// How far the copies of a repeated module lie along an axis from the first.
  double shift(const char* axis) {
    if (c_.copy == 1) return 0.0;
    const auto repeat = c_.evaluator.table(path_, "repeat");
    if (!repeat || repeat->text("along") != axis) return 0.0;
    return repeat->number("pitch") * (c_.copy - 1);
  }

  std::optional<Range> vertical(const Record& where) {
    static const Axis axis{"z", {"on", "bottom"}, {"top"}, "under", {}};
    if (fills_gap(where, axis, "height")) {
      const auto range = between_ends(where, axis);
      return range ? std::optional(moved(*range, shift("z"))) : std::nullopt;
    }
    const auto how = one_of(where, {"on", "bottom", "top", "under"}, true);
    const auto height = needed_size("height");
    if (!how || !height) return std::nullopt;
    const double up = shift("z");
    if (*how == "top") {
      const double top = where.number("top") + up;
      return Range{top - *height, top};
    }
    const auto bottom = how->empty() ? std::optional(0.0) : end_said(where, *how);
    if (!bottom) return std::nullopt;
    return Range{*bottom + up, *bottom + up + *height};
  }

  std::optional<Range> under_roof(const Record& where, Range x, Range y) {
    const auto how = one_of(where, {"on", "bottom", "top", "under"}, false);
    const auto height = needed_size("height");
    if (!how || !height) return std::nullopt;
    const auto roof = clear_height(c_.vehicle, x.from, x.to, y.from, y.to);
    if (!roof) {
      Finding finding = input_error("layout.not_under_roof", where.place("under"));
      finding.subjects = {c_.module};
      finding.with("rear", x.from, Unit::mm)
          .with("front", x.to, Unit::mm)
          .with("right", y.from, Unit::mm)
          .with("left", y.to, Unit::mm);
      c_.report(std::move(finding));
      return std::nullopt;
    }
    const double top = *roof - where.number("gap");
    return Range{top - *height, top};
  }

  std::optional<double> side_of(const Record& where, const std::string& field, const char* side) {
    return c_.side_of({field, where.text(field), side, where.place(field)});
  }

  /// The end of the module that `field` says: a number, or the side of another module and the
  /// distance kept from it.
  std::optional<double> end_said(const Record& where, const std::string& field) {
    const double apart = where.has("apart") ? where.number("apart") : 0.0;
    const auto beside = [&](const char* side, double way) -> std::optional<double> {
      const auto at = side_of(where, field, side);
      return at ? std::optional(*at + way * apart) : std::nullopt;
    };
    if (field == "on") return where.text("on") == "floor" ? 0.0 : side_of(where, field, "top");
    if (field == "behind") return beside("rear", -1.0);
    if (field == "ahead_of") return beside("front", 1.0);
    if (field == "left_of") return beside("left", 1.0);
    if (field == "right_of") return beside("right", -1.0);
    return where.number(field);
  }

  /// The ways to say where a module stands along one axis.
  struct Axis {
    const char* name;
    std::vector<std::string> low_end;
    std::vector<std::string> high_end;
    const char* middle;
    std::vector<std::string> walls;
    std::vector<std::string> all() const {
      std::vector<std::string> fields = low_end;
      fields.insert(fields.end(), high_end.begin(), high_end.end());
      fields.emplace_back(middle);
      fields.insert(fields.end(), walls.begin(), walls.end());
      return fields;
    }
  };

  /// True when both ends are said, nothing else, and no size contradicts them.
  bool fills_gap(const Record& where, const Axis& axis, const char* size_field) {
    return given(where, axis.low_end).size() == 1 && given(where, axis.high_end).size() == 1 &&
           given(where, axis.all()).size() == 2 && !size(size_field) &&
           !c_.evaluator.has(path_, size_field);
  }

  std::optional<Range> between_ends(const Record& where, const Axis& axis) {
    const std::string low = given(where, axis.low_end).front();
    const std::string high = given(where, axis.high_end).front();
    const auto from = end_said(where, low);
    const auto to = end_said(where, high);
    if (!from || !to) return std::nullopt;
    if (*to - *from > kSame) return Range{*from, *to};
    Finding finding = input_error("layout.no_length", where.place(high));
    finding.subjects = {c_.module};
    finding.with("low", low)
        .with("high", high)
        .with("from", *from, Unit::mm)
        .with("to", *to, Unit::mm);
    c_.report(std::move(finding));
    return std::nullopt;
  }

  /// Where the module stands when one end or its middle is said.
  std::optional<Range> from_end(const Record& where, const Axis& axis, const std::string& how,
                                double length) {
    const auto at = end_said(where, how);
    if (!at) return std::nullopt;
    if (how == axis.middle) return Range{*at - length / 2, *at + length / 2};
    const bool low = std::ranges::find(axis.low_end, how) != axis.low_end.end();
    return low ? Range{*at, *at + length} : Range{*at - length, *at};
  }

  static Range moved(Range range, double by) { return {range.from + by, range.to + by}; }

  std::optional<Range> along_van(const Record& where, const char* size_field) {
    static const Axis axis{"x", {"rear", "ahead_of"}, {"front", "behind"}, "centre", {}};
    std::optional<Range> range;
    if (fills_gap(where, axis, size_field)) {
      range = between_ends(where, axis);
    } else {
      const auto how = one_of(where, axis.all(), false);
      const auto length = needed_size(size_field);
      if (how && length) range = from_end(where, axis, *how, *length);
    }
    return range ? std::optional(moved(*range, shift("x"))) : std::nullopt;
  }

  /// The heights over which the module must fit the walls.
  Range at_walls(Range z) const {
    if (c_.kind.wall_height == nullptr) return z;
    const auto height = c_.kind.wall_height({c_.evaluator, path_, c_.catalogue});
    return height ? Range{z.from, z.from + *height} : z;
  }

  std::optional<Range> across_van(const Record& where, const char* size_field, Range x, Range z) {
    static const Axis axis{
        "y", {"right", "left_of"}, {"left", "right_of"}, "middle", {"against", "between"}};
    std::optional<Range> range;
    if (fills_gap(where, axis, size_field)) {
      range = between_ends(where, axis);
    } else {
      const auto how = one_of(where, axis.all(), false);
      if (!how) return std::nullopt;
      if (*how == "against" || *how == "between") {
        range = at_wall(where, *how, size_field, x, z);
      } else if (const auto width = needed_size(size_field)) {
        range = from_end(where, axis, *how, *width);
      }
    }
    return range ? std::optional(moved(*range, shift("y"))) : std::nullopt;
  }

  /// How far the envelope reaches to the walls.
  std::optional<ClearWidth> reached(const ClearWidth& narrowest, Range x, Range z) const {
    if (c_.kind.lies_flat) return widest_along(c_.vehicle, x.from, x.to, z.from, z.to);
    if (c_.kind.follows_walls) return widest(wall_outline(c_.vehicle, x.from, x.to, z.from, z.to));
    return narrowest;
  }

  std::optional<Range> at_wall(const Record& where, const std::string& how, const char* size_field,
                               Range x, Range z) {
    const bool between = how == "between";
    const double gap = where.has("gap") ? where.number("gap") : 0.0;
    // The highest surveyed height may lie below the module's top only if the module is too tall.
    Vehicle room_for = c_.vehicle;
    if (c_.kind.stands_over_arches) room_for.arches.clear();
    const auto narrowest = clear_width(room_for, x.from, x.to, z.from, z.to);
    const auto clear = narrowest ? reached(*narrowest, x, z) : narrowest;
    if (!clear) {
      Finding finding = input_error("layout.outside_survey", where.place(how));
      finding.subjects = {c_.module};
      finding.with("rear", x.from, Unit::mm)
          .with("front", x.to, Unit::mm)
          .with("bottom", z.from, Unit::mm)
          .with("top", z.to, Unit::mm);
      c_.report(std::move(finding));
      return std::nullopt;
    }
    const auto mm = [](double value) { return Quantity{value, dimension::length}; };
    c_.evaluator.used("clear_width", std::array{mm(x.from), mm(x.to), mm(z.from), mm(z.to)},
                      mm(clear->width()));
    const double room = clear->width() - (between ? 2 * gap : gap);
    const bool fills = between && !c_.evaluator.has(path_, size_field);
    auto width = fills ? std::optional(room) : needed_size(size_field);
    if (!width) return std::nullopt;
    if (!between && !c_.evaluator.has(path_, size_field)) {  // the default of what follows a wall
      *width += where.text("against") == "left wall" ? clear->left - narrowest->left
                                                     : narrowest->right - clear->right;
    }
    if (*width > room + kSame || *width <= kSame) {
      Finding finding = input_error("layout.wider_than_van", where.place(how));
      finding.subjects = {c_.module};
      finding.with("measured", *width, Unit::mm).with("required", room, Unit::mm);
      c_.report(std::move(finding));
      if (*width <= kSame) return std::nullopt;
    }
    if (between) {
      const double middle = (clear->left + clear->right) / 2;
      return Range{middle - *width / 2, middle + *width / 2};
    }
    if (where.text("against") == "left wall") {
      return Range{clear->left - gap - *width, clear->left - gap};
    }
    return Range{clear->right + gap, clear->right + gap + *width};
  }

  /// Says what a place or a repetition asks for that goes with nothing else it says.
  bool makes_sense(const Record& where) {
    bool good = true;
    const auto report = [&](const char* code, const Place& place) {
      Finding finding = input_error(code, place);
      finding.subjects = {c_.module};
      c_.report(std::move(finding));
      good = false;
    };
    if (where.given("apart") &&
        given(where, {"behind", "ahead_of", "left_of", "right_of"}).empty()) {
      report("layout.apart_alone", where.place("apart"));
    }
    if (where.given("under") && !given(where, {"against", "between"}).empty()) {
      report("layout.under_at_wall", where.place("under"));
    }
    const auto repeat = c_.evaluator.table(path_, "repeat");
    if (!repeat) return good && !c_.evaluator.has(path_, "repeat");
    if (std::abs(repeat->number("pitch")) < kSame) {
      report("layout.repeat_pitch", repeat->place("pitch"));
    }
    if (repeat->text("along") == "y" && where.given("between")) {
      report("layout.repeat_between_walls", repeat->place("along"));
    }
    return good;
  }

  const PlacementContext& c_;
  std::string path_;
};

}  // namespace

std::optional<Box> place_module(const PlacementContext& context) {
  return Placer(context).run();
}

Frame module_frame(const Box& b, std::string_view faces) {
  if (faces == "rear") return {{b.lo.x, b.hi.y, b.lo.z}, {0, -1, 0}, {1, 0, 0}, {0, 0, 1}};
  if (faces == "front") return {{b.hi.x, b.lo.y, b.lo.z}, {0, 1, 0}, {-1, 0, 0}, {0, 0, 1}};
  if (faces == "left") return {{b.hi.x, b.hi.y, b.lo.z}, {-1, 0, 0}, {0, -1, 0}, {0, 0, 1}};
  return {{b.lo.x, b.lo.y, b.lo.z}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
}

Vec3 module_size(const Box& envelope, std::string_view faces) {
  const Vec3 s = envelope.size();
  return looks_along_van(faces) ? Vec3{s.y, s.x, s.z} : s;
}

}  // namespace ribbay::detail
