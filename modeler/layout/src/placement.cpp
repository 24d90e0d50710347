#include "placement.hpp"

#include "base/tolerance.hpp"
#include "walls.hpp"

#include <algorithm>
#include <array>
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

    const bool lengthwise = looks_along_van(*faces);  // its depth lies along x
    const char* x_size = lengthwise ? "depth" : "width";
    const char* y_size = lengthwise ? "width" : "depth";

    const auto z = vertical(where);
    const auto x = along_van(where, x_size);
    if (!x || !z) return std::nullopt;
    const auto y = across_van(where, y_size, *x, at_walls(*z));
    if (!y) return std::nullopt;
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

  /// Which of `fields` are given; reports when it is not exactly one (or none, when that is
  /// allowed).
  std::optional<std::string> one_of(const Record& where, std::vector<std::string> fields,
                                    bool none_allowed) {
    std::vector<std::string> given;
    for (const std::string& field : fields) {
      if (where.given(field)) given.push_back(field);
    }
    if (given.size() == 1) return given.front();
    if (given.empty() && none_allowed) return std::string();
    Finding finding = input_error(given.empty() ? "layout.no_place" : "layout.two_places",
                                  given.empty() ? module_place() : where.place(given.back()));
    finding.subjects = {c_.module};
    finding.with("fields", join(fields, ", ")).with("given", join(given, " and "));
    c_.report(std::move(finding));
    return std::nullopt;
  }

  std::optional<Range> vertical(const Record& where) {
    const auto how = one_of(where, {"on", "bottom", "top"}, true);
    const auto height = needed_size("height");
    if (!how || !height) return std::nullopt;
    if (*how == "top") return Range{where.number("top") - *height, where.number("top")};
    double bottom = 0.0;
    if (*how == "bottom") bottom = where.number("bottom");
    if (*how == "on" && where.text("on") != "floor") {
      const auto top = c_.top_of(where.text("on"));
      if (!top) return std::nullopt;
      bottom = *top;
    }
    return Range{bottom, bottom + *height};
  }

  std::optional<Range> along_van(const Record& where, const char* size_field) {
    if (where.given("rear") && where.given("front")) {  // both ends given: the size follows
      const Range x{where.number("rear"), where.number("front")};
      if (x.to - x.from <= kSame) {
        Finding finding = input_error("layout.no_length", where.place("front"));
        finding.subjects = {c_.module};
        finding.with("rear", x.from, Unit::mm).with("front", x.to, Unit::mm);
        c_.report(std::move(finding));
        return std::nullopt;
      }
      if (!c_.evaluator.has(path_, size_field)) return x;
    }
    const auto how = one_of(where, {"rear", "front"}, false);
    const auto length = needed_size(size_field);
    if (!how || !length) return std::nullopt;
    if (*how == "rear") return Range{where.number("rear"), where.number("rear") + *length};
    return Range{where.number("front") - *length, where.number("front")};
  }

  /// The heights over which the module must fit the walls.
  Range at_walls(Range z) const {
    if (c_.kind.wall_height == nullptr) return z;
    const auto height = c_.kind.wall_height({c_.evaluator, path_, c_.catalogue});
    return height ? Range{z.from, z.from + *height} : z;
  }

  std::optional<Range> across_van(const Record& where, const char* size_field, Range x, Range z) {
    const auto how = one_of(where, {"left", "right", "middle", "against", "between"}, false);
    if (!how) return std::nullopt;
    const double gap = where.has("gap") ? where.number("gap") : 0.0;
    if (*how == "against" || *how == "between") {
      // The highest surveyed height may lie below the module's top only if the module is too tall.
      const auto clear = c_.kind.follows_walls && *how == "between"
                             ? widest(wall_outline(c_.vehicle, x.from, x.to, z.from, z.to))
                             : clear_width(c_.vehicle, x.from, x.to, z.from, z.to);
      if (!clear) {
        Finding finding = input_error("layout.outside_survey", where.place(*how));
        finding.subjects = {c_.module};
        finding.with("rear", x.from, Unit::mm)
            .with("front", x.to, Unit::mm)
            .with("bottom", z.from, Unit::mm)
            .with("top", z.to, Unit::mm);
        c_.report(std::move(finding));
        return std::nullopt;
      }
      std::optional<double> width;
      if (*how == "between" && !c_.evaluator.has(path_, size_field)) {
        width = clear->width() - 2 * gap;
      } else {
        width = needed_size(size_field);
      }
      if (!width) return std::nullopt;
      const double room = clear->width() - (*how == "between" ? 2 * gap : gap);
      if (*width > room + kSame || *width <= kSame) {
        Finding finding = input_error("layout.wider_than_van", where.place(*how));
        finding.subjects = {c_.module};
        finding.with("measured", *width, Unit::mm).with("required", room, Unit::mm);
        c_.report(std::move(finding));
        if (*width <= kSame) return std::nullopt;
      }
      if (*how == "between") {
        const double middle = (clear->left + clear->right) / 2;
        return Range{middle - *width / 2, middle + *width / 2};
      }
      if (where.text("against") == "left wall") {
        return Range{clear->left - gap - *width, clear->left - gap};
      }
      return Range{clear->right + gap, clear->right + gap + *width};
    }
    const auto width = needed_size(size_field);
    if (!width) return std::nullopt;
    if (*how == "left") return Range{where.number("left") - *width, where.number("left")};
    if (*how == "right") return Range{where.number("right"), where.number("right") + *width};
    return Range{where.number("middle") - *width / 2, where.number("middle") + *width / 2};
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
