#include "base/tolerance.hpp"
#include "hatch_parts.hpp"
#include "spec/fields.hpp"

namespace ribbay::detail {

namespace {

/// An access hatch on the face of another module, which makes the opening for it by the port
/// "hole". The module's back lies on that face.
class Hatch {
 public:
  explicit Hatch(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        form_{read_hatch(
            request.fields, request.catalogue,
            {request.fields.number("opening_width"), request.fields.number("opening_height")},
            false)} {}

  ModuleParts make() {
    HatchMaker maker(r_, shop_);
    if (!has_its_size() || !maker.can_be_made(form_, r_.fields)) return shop_.finish();
    const Vec3 middle{r_.size.x / 2, r_.size.y, r_.size.z / 2};
    const HatchPlace place{.prefix = "",
                           .frame = {middle, {1, 0, 0}, {0, 0, 1}, {0, -1, 0}},
                           .hosts = r_.fields.has("fixed_to") ? r_.fields.texts("fixed_to")
                                                              : std::vector<std::string>{}};
    maker.make(form_, r_.fields, place);
    const std::string& faces = r_.fields.text("faces");
    if (faces == "left" || faces == "right")
      maker.check_ribs(form_, r_.fields, place, faces == "left" ? VanSide::right : VanSide::left);
    add_port("clear", middle, form_.clear);
    add_port("hole", middle, form_.size(form_.hole_gap));
    return shop_.finish();
  }

 private:
  void add_port(const char* name, Vec3 middle, Vec2 size) {
    const Vec3 half{size.x / 2, 0, size.y / 2};
    const Vec3 front{0, r_.size.y, 0};
    shop_.made().ports[name] = shop_.to_van(Box{middle - half - front, middle + half});
  }

  /// Its outer sizes follow from its opening: others would contradict it.
  bool has_its_size() {
    const Vec2 outer = form_.size(form_.flange);
    bool good = true;
    const auto check = [&](const char* field, double found, double needed) {
      if (std::abs(found - needed) < kSame) return;
      Finding finding = input_error("hatch.size", r_.fields.place(field));
      finding.subjects = {r_.name};
      finding.with("field", field)
          .with("measured", found, Unit::mm)
          .with("required", needed, Unit::mm);
      shop_.find(std::move(finding));
      good = false;
    };
    check("width", r_.size.x, outer.x);
    check("depth", r_.size.y, form_.depth());
    check("height", r_.size.z, outer.y);
    return good;
  }

  const ModuleRequest& r_;
  Workshop shop_;
  HatchForm form_;
};

std::optional<double> thickness(const EarlyFields& early, const char* field) {
  const auto key = early.evaluator.text(early.path, field);
  if (!key) return std::nullopt;
  const auto sheet = early.catalogue.sheets.find(*key);
  if (sheet == early.catalogue.sheets.end()) return std::nullopt;
  return sheet->second.thickness;
}

std::optional<double> hatch_size(const EarlyFields& early, int axis) {
  if (axis == 1) {
    const auto ring = thickness(early, "ring_sheet");
    const auto lid = thickness(early, "lid_sheet");
    const auto how = early.evaluator.text(early.path, "lid");
    if (!ring || !lid || !how) return std::nullopt;
    return *how == "rebated" ? *ring : *ring + *lid;
  }
  const auto opening =
      early.evaluator.number(early.path, axis == 0 ? "opening_width" : "opening_height");
  const auto flange = early.evaluator.number(early.path, "flange");
  if (!opening || !flange) return std::nullopt;
  return *opening + 2 * *flange;
}

std::vector<Field> fields() {
  std::vector<Field> all = {
      length_field("opening_width").needed().above(0).means("of the clear opening through it"),
      length_field("opening_height")
          .needed()
          .above(0)
          .means("of the clear opening; of a round one the same as its width"),
      FieldMaker{"fixed_to", FieldKind::texts}.means(
          "ids of the parts it is screwed to, such as \"partition/piece_1\"; that module makes its "
          "opening by the port \"hole\""),
  };
  for (Field& field : hatch_fields()) all.push_back(std::move(field));
  return all;
}

}  // namespace

Kind hatch_kind() {
  return {.name = "hatch",
          .schema = module_schema(
              "hatch",
              "an access opening with a ring and a lid, on the face of another module; its sizes "
              "follow from its opening",
              fields()),
          .generate = [](const ModuleRequest& request) { return Hatch(request).make(); },
          .default_size = hatch_size};
}

}  // namespace ribbay::detail
