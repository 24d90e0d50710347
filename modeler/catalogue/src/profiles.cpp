#include "profiles.hpp"

#include "base/tolerance.hpp"
#include "shape/sections.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Published masses are rounded to three figures, and tables differ in whether they count fillets.
/// Common practice, no source.
constexpr double kMassShare = 0.02;

constexpr double kMetre = 1000.0;

/// Cells of a slotted profile along one side, at most: a stated limit, wider ones are not drawn.
constexpr double kMostCells = 12.0;

/// Which of the fields that depend on the family each family must have and may have.
struct FamilyFields {
  std::string_view name;
  ProfileFamily family;
  std::vector<std::string_view> needs;
  std::vector<std::string_view> may_have;
};

const std::vector<FamilyFields>& families() {
  static const std::vector<FamilyFields> table{
      {"slotted", ProfileFamily::slotted, {"slot"}, {"cell", "core_bore", "corner_radius"}},
      {"i_beam", ProfileFamily::i_beam, {"web", "flange"}, {"root_radius"}},
      {"rectangular_tube",
       ProfileFamily::rectangular_tube,
       {"wall"},
       {"outer_radius", "inner_radius"}},
      {"angle", ProfileFamily::angle, {"wall"}, {"root_radius", "toe_radius"}},
      {"flat", ProfileFamily::flat, {}, {"corner_radius"}},
  };
  return table;
}

const FamilyFields& family_of(const Record& record) {
  return *std::ranges::find(families(), std::string_view(record.text("family")),
                            &FamilyFields::name);
}

class ProfileReader {
 public:
  ProfileReader(const std::string& key, const Record& record, Findings& findings)
      : record_(record), findings_(findings) {
    profile_.key = key;
    profile_.material = record.text("material");
    profile_.width = record.number("width");
    profile_.height = record.number("height");
    if (record.has("stock_lengths")) profile_.stock_lengths = record.numbers("stock_lengths");
  }

  std::optional<Profile> read(const Material& material) {
    const FamilyFields& family = family_of(record_);
    profile_.family = family.family;
    if (!fields_fit(family) || !make_section()) return std::nullopt;
    if (const std::string reason = fault(profile_.section); !reason.empty()) {
      report("catalogue.section", record_.place()).with("reason", reason);
      return std::nullopt;
    }
    if (!mass_fits(material)) return std::nullopt;
    return std::move(profile_);
  }

 private:
  Finding& report(std::string code, const Place& place) {
    Finding finding = input_error(std::move(code), place);
    finding.subjects.push_back(profile_.key);
    return findings_.emplace_back(std::move(finding));
  }

  double number_or_0(std::string_view field) const {
    return record_.number_if(field).value_or(0.0);
  }

  bool fields_fit(const FamilyFields& family) {
    const std::size_t before = findings_.size();
    constexpr std::array kDependent{"slot",         "cell",         "core_bore",   "corner_radius",
                                    "web",          "flange",       "root_radius", "toe_radius",
                                    "outer_radius", "inner_radius", "wall"};
    for (const std::string_view field : kDependent) {
      const bool needed = std::ranges::count(family.needs, field) > 0;
      const bool fits = needed || std::ranges::count(family.may_have, field) > 0;
      if (needed && !record_.has(field)) {
        report("catalogue.size_missing", record_.place())
            .with("family", "the family " + std::string(family.name))
            .with("field", std::string(field));
      }
      if (!fits && record_.has(field)) {
        report("catalogue.size_not_used", record_.place(field))
            .with("family", "the family " + std::string(family.name))
            .with("field", std::string(field));
      }
    }
    return findings_.size() == before;
  }

  bool make_section() {
    const double w = profile_.width;
    const double h = profile_.height;
    switch (profile_.family) {
      case ProfileFamily::slotted:
        return make_slotted();
      case ProfileFamily::i_beam:
        profile_.section = i_beam_section(h, w, record_.number("web"), record_.number("flange"),
                                          number_or_0("root_radius"));
        return true;
      case ProfileFamily::rectangular_tube:
        profile_.section = hollow_section(h, w, record_.number("wall"), number_or_0("outer_radius"),
                                          number_or_0("inner_radius"));
        return true;
      case ProfileFamily::angle:
        profile_.section = angle_section(h, w, record_.number("wall"), number_or_0("root_radius"),
                                         number_or_0("toe_radius"));
        return true;
      case ProfileFamily::flat:
        profile_.section = flat_section(w, h, number_or_0("corner_radius"));
        return true;
    }
    return false;
  }

  /// How many cells make up a size; reports when it is no whole number or too large.
  int cells(std::string_view field, double cell) {
    const double size = record_.number(field);
    const double count = std::round(size / cell);
    if (count >= 1.0 && count <= kMostCells && std::abs(size - count * cell) < kContact)
      return static_cast<int>(count);
    report("catalogue.cells", record_.place(field))
        .with("field", std::string(field))
        .with("size", size, Unit::mm)
        .with("cell", cell, Unit::mm);
    return 0;
  }

  /// Reports a size of the slot that does not leave room for another.
  bool smaller(const Record& slot, std::string_view small, double small_size,
               const std::string& large, double large_size) {
    if (small_size < large_size) return true;
    report("catalogue.slot", slot.place(small))
        .with("small_name", std::string(small))
        .with("small", small_size, Unit::mm)
        .with("large_name", large)
        .with("large", large_size, Unit::mm);
    return false;
  }

  bool make_slotted() {
    const Record& fields = record_.table("slot");
    const double cell =
        record_.number_if("cell").value_or(std::min(profile_.width, profile_.height));
    const Slot slot{.opening = fields.number("opening"),
                    .lip = fields.number("lip"),
                    .cavity_width = fields.number("cavity_width"),
                    .floor_width = fields.number("floor_width"),
                    .depth = fields.number("depth"),
                    .pitch = cell};
    profile_.core_bore = number_or_0("core_bore");
    const SlottedSizes sizes{.cell = cell,
                             .across = cells("width", cell),
                             .up = cells("height", cell),
                             .opening = slot.opening,
                             .cavity = slot.cavity_width,
                             .floor = slot.floor_width,
                             .lip = slot.lip,
                             .depth = slot.depth,
                             .core_bore = profile_.core_bore,
                             .corner_radius = number_or_0("corner_radius")};
    const double core = cell / 2.0 - profile_.core_bore / 2.0;
    const std::array fits{
        sizes.across > 0,
        sizes.up > 0,
        smaller(fields, "opening", slot.opening, "cavity_width", slot.cavity_width),
        smaller(fields, "cavity_width", slot.cavity_width, "the cell", cell),
        smaller(fields, "floor_width", slot.floor_width, "the cell", cell),
        smaller(fields, "lip", slot.lip, "depth", slot.depth),
        smaller(fields, "depth", slot.depth, "half the cell less its core bore", core),
    };
    if (std::ranges::count(fits, false) > 0) return false;
    profile_.slot = slot;
    profile_.section = slotted_section(sizes);
    profile_.coarse = flat_section(profile_.width, profile_.height);
    if (profile_.core_bore > 0.0) add_core_bores(sizes);
    return true;
  }

  void add_core_bores(const SlottedSizes& sizes) {
    for (int i = 0; i < sizes.across; ++i) {
      for (int j = 0; j < sizes.up; ++j) {
        profile_.core_bores.push_back({sizes.cell * (i + 0.5) - profile_.width / 2.0,
                                       sizes.cell * (j + 0.5) - profile_.height / 2.0});
      }
    }
  }

  bool mass_fits(const Material& material) {
    const auto published = record_.number_if("metre_mass");
    if (!published) return true;
    const double computed = area(profile_.section) * kMetre * material.density;
    if (std::abs(computed - *published) <= kMassShare * *published) return true;
    report("catalogue.metre_mass", record_.place("metre_mass"))
        .with("published", *published, Unit::kg)
        .with("computed", std::round(computed * kMetre) / kMetre, Unit::kg);
    return false;
  }

  const Record& record_;
  Findings& findings_;
  Profile profile_;
};

}  // namespace

std::optional<Profile> read_profile(const std::string& key, const Record& record,
                                    const Material& material, Findings& findings) {
  return ProfileReader(key, record, findings).read(material);
}

}  // namespace ribbay::detail
