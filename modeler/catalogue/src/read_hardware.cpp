#include "base/tolerance.hpp"
#include "reader.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

namespace detail {

namespace {

/// For bolts whose file gives no mass, kg/mm3. Source: carbon steel, EN 1993-1-1 3.2.6 (from
/// memory).
constexpr double kSteel = 7.85e-6;

double cylinder_volume(double diameter, double height) {
  return std::numbers::pi / 4.0 * diameter * diameter * height;
}

template <class Item>
const Item& entry_of(const std::map<std::string, Item, std::less<>>& items,
                     const std::string& key) {
  return items.find(key)->second;
}

}  // namespace

void CatalogueReader::add_bolt(const std::string& key, const Record& record) {
  auto item = named<Bolt>(key, record);
  const std::string& kind = record.text("kind");
  item.kind = kind == "wood"  ? BoltKind::wood
              : kind == "pin" ? BoltKind::pin
                              : BoltKind::machine;
  item.diameter = record.number("diameter");
  item.length = record.number("length");
  item.head_diameter = record.number("head_diameter");
  item.head_height = record.number("head_height");
  item.countersunk = record.flag("countersunk");
  item.clearance_hole = record.number("clearance_hole");
  item.pilot_hole = record.number_if("pilot_hole").value_or(0.0);
  item.spanner = record.number_if("spanner").value_or(0.0);
  item.strength_class = record.text_or("strength_class", "");
  const double shank = item.countersunk ? item.length - item.head_height : item.length;
  item.mass_kg = record.number_if("mass").value_or(
      kSteel * (cylinder_volume(item.diameter, shank) +
                cylinder_volume(item.head_diameter, item.head_height)));
  const bool head = larger(key, record, "head_diameter", item.diameter, "its thread");
  const bool hole = larger(key, record, "clearance_hole", item.diameter, "its thread");
  const bool passes = larger(key, record, "head_diameter", item.clearance_hole,
                             "the hole it must not slip through");
  const bool pilot = item.pilot_hole < item.diameter;
  if (!pilot) {
    report("catalogue.pilot_hole", record.place("pilot_hole"), key)
        .with("pilot", item.pilot_hole, Unit::mm)
        .with("thread", item.diameter, Unit::mm);
  }
  const bool shank_left = !item.countersunk || larger(key, record, "length", item.head_height,
                                                      "the height of its countersunk head");
  if (head && hole && passes && pilot && shank_left) {
    catalogue_.bolts.emplace(key, std::move(item));
  }
}

void CatalogueReader::add_nut(const std::string& key, const Record& record) {
  auto item = named<Nut>(key, record);
  item.diameter = record.number("diameter");
  item.width = record.number("width");
  item.length = record.number("length");
  item.height = record.number("height");
  item.pull_out_n = record.number_if("pull_out").value_or(0.0);
  item.mass_kg = record.number("mass");
  const bool width = larger(key, record, "width", item.diameter, "its thread");
  const bool length = larger(key, record, "length", item.diameter, "its thread");
  if (width && length) catalogue_.nuts.emplace(key, std::move(item));
}

void CatalogueReader::add_slide(const std::string& key, const Record& record) {
  auto item = named<Slide>(key, record);
  item.length = record.number("length");
  item.travel = record.number("travel");
  item.thickness = record.number("thickness");
  item.height = record.number("height");
  item.load_kg = record.number("load");
  item.mass_kg = record.number("mass");
  item.locks_in = record.flag("locks_in");
  item.locks_out = record.flag("locks_out");
  catalogue_.slides.emplace(key, std::move(item));
}

void CatalogueReader::add_hinge(const std::string& key, const Record& record) {
  auto item = named<Hinge>(key, record);
  item.opening = record.number("opening");
  item.cup_diameter = record.number("cup_diameter");
  item.cup_depth = record.number("cup_depth");
  item.cup_edge = record.number("cup_edge");
  item.axis_inset = record.number("axis_inset");
  item.axis_out = record.number("axis_out");
  item.mass_kg = record.number("mass");
  if (larger(key, record, "cup_edge", item.cup_diameter / 2.0, "half its cup")) {
    catalogue_.hinges.emplace(key, std::move(item));
  }
}

void CatalogueReader::add_butt_hinge(const std::string& key, const Record& record) {
  auto item = named<ButtHinge>(key, record);
  item.material = record.text("material");
  item.screw = record.text("screw");
  if (!catalogue_.materials.contains(item.material) || !catalogue_.bolts.contains(item.screw)) {
    return;
  }
  item.leaf = record.number("leaf");
  item.length = record.number("length");
  item.thickness = record.number("thickness");
  item.knuckle = record.number("knuckle");
  item.opening = record.number("opening");
  item.continuous = record.flag("continuous");
  item.hole_row = record.number("hole_row");
  item.first_hole = record.number("first_hole");
  item.hole_spacing = record.number("hole_spacing");
  item.mass_kg = record.number("mass");
  const double head = entry_of(catalogue_.bolts, item.screw).head_diameter / 2.0;
  const bool ends =
      larger(key, record, "length", 2.0 * item.first_hole, "both distances of its first hole");
  const bool edge = larger(key, record, "leaf", item.hole_row + head,
                           "the row of holes and half the head of its screw");
  const bool pin = larger(key, record, "hole_row", item.knuckle / 2.0 + head,
                          "half its knuckle and half the head of its screw");
  if (ends && edge && pin) catalogue_.butt_hinges.emplace(key, std::move(item));
}

void CatalogueReader::add_bracket(const std::string& key, const Record& record) {
  auto item = named<Bracket>(key, record);
  item.material = record.text("material");
  item.leg = record.number("leg");
  item.thickness = record.number("thickness");
  item.width = record.number("width");
  item.hole_from_corner = record.number("hole_from_corner");
  item.bolt = record.text("bolt");
  item.nut = record.text_or("nut", "");
  const auto bolt = catalogue_.bolts.find(item.bolt);
  if (!catalogue_.materials.contains(item.material) || bolt == catalogue_.bolts.end() ||
      (!item.nut.empty() && !catalogue_.nuts.contains(item.nut))) {
    return;
  }
  const double head = bolt->second.head_diameter / 2.0;
  const bool corner = larger(key, record, "hole_from_corner", item.thickness + head,
                             "its thickness and half the bolt's head");
  const bool end = larger(key, record, "leg", item.hole_from_corner + head,
                          "the hole's distance and half the bolt's head");
  const bool side = larger(key, record, "width", 2.0 * head - kSame, "the bolt's head");
  const bool threads = threads_agree(key, record, bolt->second, item.nut);
  if (corner && end && side && threads) catalogue_.brackets.emplace(key, std::move(item));
}

bool CatalogueReader::threads_agree(const std::string& key, const Record& record, const Bolt& bolt,
                                    const std::string& nut) {
  if (nut.empty()) return true;
  const double thread = entry_of(catalogue_.nuts, nut).diameter;
  if (thread == bolt.diameter) return true;
  report("catalogue.threads_differ", record.place("nut"), key)
      .with("bolt", bolt.diameter, Unit::mm)
      .with("nut", thread, Unit::mm);
  return false;
}

void CatalogueReader::add_plate(const std::string& key, const Record& record) {
  auto item = named<Plate>(key, record);
  item.material = record.text("material");
  item.bolt = record.text("bolt");
  item.nut = record.text_or("nut", "");
  if (!catalogue_.materials.contains(item.material) || !catalogue_.bolts.contains(item.bolt) ||
      (!item.nut.empty() && !catalogue_.nuts.contains(item.nut))) {
    return;
  }
  item.thickness = record.number("thickness");
  item.size = record.vec2("size");
  item.triangle = record.flag("triangle");
  for (const auto& [name, hole] : record.tables("holes")) item.holes.push_back(hole.vec2("at"));
  const Bolt& bolt = entry_of(catalogue_.bolts, item.bolt);
  const bool inside = holes_inside(item, record, bolt.head_diameter);
  const bool threads = threads_agree(key, record, bolt, item.nut);
  if (inside && threads) catalogue_.plates.emplace(key, std::move(item));
}

/// Reports holes whose bolt's head would reach over an edge of the plate.
bool CatalogueReader::holes_inside(const Plate& plate, const Record& record, double head) {
  bool inside = true;
  const Vec2 size = plate.size;
  const double long_side = length(size);
  for (const auto& [name, hole] : record.tables("holes")) {
    const Vec2 at = hole.vec2("at");
    double edge = std::min({at.x, at.y, size.x - at.x, size.y - at.y});
    if (plate.triangle) {
      edge = std::min(edge, (size.x * size.y - at.x * size.y - at.y * size.x) / long_side);
    }
    if (edge > head / 2.0 - kSame) continue;
    report("catalogue.hole_beside", hole.place("at"), plate.key)
        .with("hole", name)
        .with("edge", edge, Unit::mm)
        .with("head", head, Unit::mm);
    inside = false;
  }
  return inside;
}

void CatalogueReader::add_connector(const std::string& key, const Record& record) {
  auto item = named<Connector>(key, record);
  item.bore = record.number("bore");
  item.from_end = record.number("from_end");
  item.depth = record.number("depth");
  item.foot_length = record.number("foot_length");
  item.foot_height = record.number("foot_height");
  item.mass_kg = record.number("mass");
  if (larger(key, record, "from_end", item.bore / 2.0, "half its cross hole")) {
    catalogue_.connectors.emplace(key, std::move(item));
  }
}

void CatalogueReader::add_dowel(const std::string& key, const Record& record) {
  if (!catalogue_.materials.contains(record.text("material"))) return;
  auto item = named<Dowel>(key, record);
  item.material = record.text("material");
  item.diameter = record.number("diameter");
  item.length = record.number("length");
  if (larger(key, record, "length", item.diameter, "its diameter")) {
    catalogue_.dowels.emplace(key, std::move(item));
  }
}

void CatalogueReader::add_gasket(const std::string& key, const Record& record) {
  constexpr double kMetre = 1000.0;
  auto item = named<Gasket>(key, record);
  item.width = record.number("width");
  item.thickness = record.number("thickness");
  item.compressed = record.number("compressed");
  item.metre_mass = record.number("metre_mass") / kMetre;
  if (larger(key, record, "thickness", item.compressed, "what is left when it is compressed")) {
    catalogue_.gaskets.emplace(key, std::move(item));
  }
}

void CatalogueReader::add_handle(const std::string& key, const Record& record) {
  auto item = named<Handle>(key, record);
  item.length = record.number("length");
  item.width = record.number("width");
  item.projection = record.number("projection");
  item.hole_spacing = record.number("hole_spacing");
  item.hole_diameter = record.number("hole_diameter");
  item.mass_kg = record.number("mass");
  if (larger(key, record, "length", item.hole_spacing, "the distance of its holes")) {
    catalogue_.handles.emplace(key, std::move(item));
  }
}

}  // namespace detail

std::vector<double> ButtHinge::holes(double of) const {
  const double span = of - 2.0 * first_hole;
  const int gaps = std::max(1, static_cast<int>(std::ceil(span / hole_spacing - kSame)));
  std::vector<double> at;
  for (int i = 0; i <= gaps; ++i) at.push_back(first_hole + span * i / gaps);
  return at;
}

}  // namespace ribbay
