#include "profiles.hpp"
#include "reader.hpp"

#include <algorithm>

namespace ribbay::detail {

void CatalogueReader::add_material(const std::string& key, const Record& record) {
  if (!good_colour(key, record)) return;
  auto item = named<Material>(key, record);
  item.density = record.number("density");
  item.modulus_mpa = record.number_if("modulus").value_or(0.0);
  item.shear_modulus_mpa = record.number_if("shear_modulus").value_or(0.0);
  item.expansion = record.number_if("expansion").value_or(0.0);
  item.anodic_index = record.number_if("anodic_index");
  item.radial_movement = record.number_if("radial_movement").value_or(0.0);
  item.tangential_movement = record.number_if("tangential_movement").value_or(0.0);
  item.colour = record.text("colour");
  for (const char* field : {"radial_movement", "tangential_movement"}) {
    const bool wood = record.has("radial_movement") || record.has("tangential_movement");
    if (wood && !record.has(field)) return report_missing(key, record, "solid wood", field);
  }
  catalogue_.materials.emplace(key, std::move(item));
}

void CatalogueReader::add_profile(const std::string& key, const Record& record) {
  const auto material = catalogue_.materials.find(record.text("material"));
  if (material == catalogue_.materials.end()) return;
  if (auto profile = read_profile(key, record, material->second, findings_)) {
    catalogue_.profiles.emplace(key, named(key, record, std::move(*profile)));
  }
}

void CatalogueReader::add_sheet(const std::string& key, const Record& record) {
  if (!catalogue_.materials.contains(record.text("material"))) return;
  auto item = named<Sheet>(key, record);
  item.material = record.text("material");
  item.nominal = record.number("nominal");
  item.thickness = record.number("thickness");
  item.thinnest = record.number_if("thinnest").value_or(item.thickness);
  item.thickest = record.number_if("thickest").value_or(item.thickness);
  item.length = record.number("length");
  item.width = record.number("width");
  item.grain = record.flag("grain");
  item.bend_radius = record.number_if("bend_radius").value_or(0.0);
  item.k_factor = record.number("k_factor");
  item.flex_radius = record.number_if("flex_radius").value_or(0.0);
  item.quarter_sawn = record.flag("quarter_sawn");
  item.insulation = record.flag("insulation");
  if (item.thinnest > item.thickness || item.thickness > item.thickest) {
    report("catalogue.thickness", record.place("thickness"), key)
        .with("thinnest", item.thinnest, Unit::mm)
        .with("thickness", item.thickness, Unit::mm)
        .with("thickest", item.thickest, Unit::mm);
    return;
  }
  catalogue_.sheets.emplace(key, std::move(item));
}

void CatalogueReader::add_plank(const std::string& key, const Record& record) {
  if (!catalogue_.materials.contains(record.text("material"))) return;
  auto item = named<Plank>(key, record);
  item.material = record.text("material");
  item.cover = record.number("covers");
  item.width = record.number("width");
  item.thickness = record.number("thickness");
  item.tongue = record.number("tongue");
  item.play = record.number("play");
  item.quarter_sawn = record.flag("quarter_sawn");
  if (record.has("stock_lengths")) item.stock_lengths = record.numbers("stock_lengths");
  const bool tongue = larger(key, record, "width", item.cover, "the width it covers");
  const bool lips = larger(key, record, "thickness", item.tongue + item.play,
                           "its groove, the tongue and the play");
  if (tongue && lips) catalogue_.planks.emplace(key, std::move(item));
}

void CatalogueReader::add_finish(const std::string& key, const Record& record) {
  if (!good_colour(key, record) || !finish_has_its_fields(key, record)) return;
  auto item = named<Finish>(key, record);
  const std::string& kind = record.text("kind");
  item.kind = kind == "coat"   ? FinishKind::coat
              : kind == "film" ? FinishKind::film
                               : FinishKind::edge_band;
  item.thickness = record.number("thickness");
  item.coats = static_cast<int>(record.number_if("coats").value_or(1.0));
  item.coverage = record.number_if("covers").value_or(0.0);
  item.width = record.number_if("width").value_or(0.0);
  item.turn_over = record.number_if("turn_over").value_or(0.0);
  item.area_mass = record.number_if("area_mass").value_or(0.0);
  item.colour = record.text("colour");
  catalogue_.finishes.emplace(key, std::move(item));
}

bool CatalogueReader::finish_has_its_fields(const std::string& key, const Record& record) {
  const std::string& kind = record.text("kind");
  const std::map<std::string_view, std::vector<std::string>> kinds_with{
      {"coats", {"coat"}},
      {"covers", {"coat"}},
      {"width", {"film", "edge_band"}},
      {"turn_over", {"film"}}};
  bool sound = true;
  for (const auto& [field, kinds] : kinds_with) {
    if (!record.has(field) || std::ranges::count(kinds, kind) > 0) continue;
    report("catalogue.size_not_used", record.place(field), "finish " + key)
        .with("family", "kind " + kind)
        .with("field", std::string(field));
    sound = false;
  }
  if (kind == "coat" && !record.has("covers")) {
    report_missing("finish " + key, record, "kind coat", "covers");
    sound = false;
  }
  return sound;
}

}  // namespace ribbay::detail
