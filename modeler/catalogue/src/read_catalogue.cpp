#include "base/tolerance.hpp"
#include "profiles.hpp"
#include "schemas.hpp"
#include "spec/evaluator.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay {

using namespace detail;

namespace {

/// For bolts whose file gives no mass, kg/mm3. Source: carbon steel, EN 1993-1-1 3.2.6 (from
/// memory).
constexpr double kSteel = 7.85e-6;

bool is_colour(const std::string& text) {
  return text.size() == 7 && text[0] == '#' &&
         text.find_first_not_of("0123456789abcdef", 1) == std::string::npos;
}

double cylinder_volume(double diameter, double height) {
  return std::numbers::pi / 4.0 * diameter * diameter * height;
}

class CatalogueReader {
 public:
  explicit CatalogueReader(const Document& document)
      : document_(document),
        evaluator_(document,
                   {.name = {},
                    .question = {},
                    .known_names = {},
                    .known_questions = {},
                    .catalogue = [this](std::string_view kind) { return written(kind); }}) {}

  Built<Catalogue> read() {
    declare_all();
    each("material", [&](auto& key, auto& record) { add_material(key, record); });
    each("bolt", [&](auto& key, auto& record) { add_bolt(key, record); });
    each("nut", [&](auto& key, auto& record) { add_nut(key, record); });
    each("profile", [&](auto& key, auto& record) { add_profile(key, record); });
    each("sheet", [&](auto& key, auto& record) { add_sheet(key, record); });
    each("slide", [&](auto& key, auto& record) { add_slide(key, record); });
    each("hinge", [&](auto& key, auto& record) { add_hinge(key, record); });
    each("bracket", [&](auto& key, auto& record) { add_bracket(key, record); });
    each("handle", [&](auto& key, auto& record) { add_handle(key, record); });
    each("equipment", [&](auto& key, auto& record) { add_equipment(key, record); });
    check_pairs("slide", catalogue_.slides);
    check_pairs("hinge", catalogue_.hinges);
    check_pairs("bracket", catalogue_.brackets);
    check_pairs("handle", catalogue_.handles);
    check_pairs("equipment", catalogue_.equipment);
    Findings all = evaluator_.take_findings();
    all.insert(all.end(), findings_.begin(), findings_.end());
    return {std::move(catalogue_), std::move(all)};
  }

 private:
  /// Names of the entries of a kind as written, sound or not: a reference to a faulty entry is no
  /// fault.
  std::optional<std::vector<std::string>> written(std::string_view kind) const {
    if (!catalogue_schema_of(kind)) return std::nullopt;
    std::vector<std::string> names;
    const Node* node = document_.root.find(kind);
    if (node == nullptr || node->table() == nullptr) return names;
    for (const Entry& entry : *node->table()) names.push_back(entry.key);
    return names;
  }

  /// Makes every entry known before any is read, so that expressions may name them in any order.
  void declare_all() {
    for (const auto& [kind, schema] : catalogue_schemas()) {
      const Node* node = document_.root.find(kind);
      if (node == nullptr || node->table() == nullptr) continue;
      for (const Entry& entry : *node->table()) evaluator_.declare(kind + "." + entry.key, schema);
    }
  }

  /// Calls `add` for each entry of a kind that agrees with its schema and says where it comes from.
  template <class Add>
  void each(const std::string& kind, Add add) {
    const Node* node = document_.root.find(kind);
    if (node == nullptr) return;
    if (node->table() == nullptr) {
      report("catalogue.not_tables", node->place, kind);
      return;
    }
    for (const Entry& entry : *node->table()) {
      const std::string path = kind + "." + entry.key;
      const auto record = evaluator_.record(path);
      if (!record) continue;
      if (!record->flag("assumption") && record->text_or("source", "").empty()) {
        report("catalogue.no_source", record->place(), path);
        continue;
      }
      add(entry.key, *record);
    }
  }

  Finding& report(std::string code, const Place& place, std::string subject) {
    Finding finding = input_error(std::move(code), place);
    finding.subjects.push_back(std::move(subject));
    return findings_.emplace_back(std::move(finding));
  }

  /// Fills what all entries have.
  template <class Item>
  static Item named(const std::string& key, const Record& record, Item item = {}) {
    item.key = key;
    item.title = record.text_or("title", key);
    item.provenance = {record.text_or("source", ""), record.text_or("date", ""),
                       record.flag("assumption")};
    if constexpr (requires { item.mirror; }) {
      item.mirror = {record.text("mirror") == "symmetric", record.text_or("pair", "")};
    }
    return item;
  }

  /// An item whose pair is faulty is left out; a pair that does not name the item back is reported.
  template <class Item>
  void check_pairs(const std::string& kind, std::map<std::string, Item, std::less<>>& items) {
    std::erase_if(items, [&](const auto& entry) {
      const std::string& pair = entry.second.mirror.pair;
      return !pair.empty() && !items.contains(pair);
    });
    for (const auto& [key, item] : items) {
      const std::string& pair = item.mirror.pair;
      if (pair.empty()) continue;
      const Node& written = *document_.root.find(kind)->find(key);
      if (written.find("mirror") != nullptr) {
        report("catalogue.mirror_and_pair", written.find("mirror")->place, kind + "." + key);
      }
      const std::string& back = items.find(pair)->second.mirror.pair;
      if (back == key) continue;
      report("catalogue.pair_not_mutual", written.find("pair")->place, kind + "." + key)
          .with("pair", pair)
          .with("back", back.empty() ? "no pair" : "'" + back + "'");
    }
  }

  bool good_colour(const std::string& key, const Record& record) {
    if (is_colour(record.text("colour"))) return true;
    report("catalogue.colour", record.place("colour"), key).with("colour", record.text("colour"));
    return false;
  }

  /// Reports a size that must be larger than another one and is not.
  bool larger(const std::string& key, const Record& record, std::string_view field, double than,
              std::string_view other) {
    const double size = record.number(field);
    if (size > than) return true;
    report("catalogue.too_small", record.place(field), key)
        .with("field", std::string(field))
        .with("size", size, Unit::mm)
        .with("other", std::string(other))
        .with("than", than, Unit::mm);
    return false;
  }

  void add_material(const std::string& key, const Record& record) {
    if (!good_colour(key, record)) return;
    auto item = named<Material>(key, record);
    item.density = record.number("density");
    item.modulus_mpa = record.number_if("modulus").value_or(0.0);
    item.shear_modulus_mpa = record.number_if("shear_modulus").value_or(0.0);
    item.expansion = record.number_if("expansion").value_or(0.0);
    item.colour = record.text("colour");
    catalogue_.materials.emplace(key, std::move(item));
  }

  void add_bolt(const std::string& key, const Record& record) {
    auto item = named<Bolt>(key, record);
    item.kind = record.text("kind") == "wood" ? BoltKind::wood : BoltKind::machine;
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

  void add_nut(const std::string& key, const Record& record) {
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

  void add_profile(const std::string& key, const Record& record) {
    const auto material = catalogue_.materials.find(record.text("material"));
    if (material == catalogue_.materials.end()) return;
    if (auto profile = read_profile(key, record, material->second, findings_)) {
      catalogue_.profiles.emplace(key, named(key, record, std::move(*profile)));
    }
  }

  void add_sheet(const std::string& key, const Record& record) {
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
    if (item.thinnest > item.thickness || item.thickness > item.thickest) {
      report("catalogue.thickness", record.place("thickness"), key)
          .with("thinnest", item.thinnest, Unit::mm)
          .with("thickness", item.thickness, Unit::mm)
          .with("thickest", item.thickest, Unit::mm);
      return;
    }
    catalogue_.sheets.emplace(key, std::move(item));
  }

  void add_slide(const std::string& key, const Record& record) {
    auto item = named<Slide>(key, record);
    item.length = record.number("length");
    item.travel = record.number("travel");
    item.thickness = record.number("thickness");
    item.height = record.number("height");
    item.load_kg = record.number("load");
    item.mass_kg = record.number("mass");
    catalogue_.slides.emplace(key, std::move(item));
  }

  void add_hinge(const std::string& key, const Record& record) {
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

  void add_bracket(const std::string& key, const Record& record) {
    auto item = named<Bracket>(key, record);
    item.material = record.text("material");
    item.leg = record.number("leg");
    item.thickness = record.number("thickness");
    item.width = record.number("width");
    item.hole_from_corner = record.number("hole_from_corner");
    item.bolt = record.text("bolt");
    item.nut = record.text_or("nut", "");
    const auto bolt = catalogue_.bolts.find(item.bolt);
    const auto nut = catalogue_.nuts.find(item.nut);
    if (!catalogue_.materials.contains(item.material) || bolt == catalogue_.bolts.end() ||
        (!item.nut.empty() && nut == catalogue_.nuts.end())) {
      return;
    }
    const double head = bolt->second.head_diameter / 2.0;
    const bool corner = larger(key, record, "hole_from_corner", item.thickness + head,
                               "its thickness and half the bolt's head");
    const bool end = larger(key, record, "leg", item.hole_from_corner + head,
                            "the hole's distance and half the bolt's head");
    const bool side = larger(key, record, "width", 2.0 * head - kSame, "the bolt's head");
    const bool threads = item.nut.empty() || nut->second.diameter == bolt->second.diameter;
    if (!threads) {
      report("catalogue.threads_differ", record.place("nut"), key)
          .with("bolt", bolt->second.diameter, Unit::mm)
          .with("nut", nut->second.diameter, Unit::mm);
    }
    if (corner && end && side && threads) catalogue_.brackets.emplace(key, std::move(item));
  }

  void add_handle(const std::string& key, const Record& record) {
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

  void add_equipment(const std::string& key, const Record& record) {
    auto item = named<Equipment>(key, record);
    const std::size_t before = findings_.size();
    item.mass_kg = record.number("mass");
    item.colour = record.text("colour");
    good_colour(key, record);
    for (const auto& [name, box] : record.tables("box")) {
      item.boxes.push_back({name, box.vec3("at"), box.vec3("size")});
      const Vec3 size = item.boxes.back().size;
      if (const double least = std::min({size.x, size.y, size.z}); least <= 0.0) {
        report("catalogue.empty_box", box.place("size"), key + "." + name)
            .with("size", least, Unit::mm);
      }
    }
    if (item.boxes.front().at != Vec3{}) {
      const auto& [name, box] = record.tables("box").front();
      report("catalogue.first_box", box.place("at"), key + "." + name);
    }
    item.front_swing = record.number_if("front_swing");
    add_feet(item, record);
    add_air(item, record);
    add_ports(item, record);
    if (item.mirror.symmetric) check_symmetry(item, record);
    if (findings_.size() == before) catalogue_.equipment.emplace(key, std::move(item));
  }

  void add_feet(Equipment& item, const Record& record) {
    const Box bounds = item.bounds();
    for (const auto& [name, foot] : record.tables("feet")) {
      const Vec3 at = foot.vec3("at");
      item.feet.push_back(at);
      if (at.x < bounds.lo.x || at.x > bounds.hi.x || at.y < bounds.lo.y || at.y > bounds.hi.y) {
        report("catalogue.foot_beside", foot.place("at"), item.key)
            .with("foot", name)
            .with("x", at.x, Unit::mm)
            .with("y", at.y, Unit::mm)
            .with("width", bounds.hi.x, Unit::mm)
            .with("depth", bounds.hi.y, Unit::mm);
      }
    }
  }

  static void add_air(Equipment& item, const Record& record) {
    if (!record.has("air")) return;
    const Record& air = record.table("air");
    for (std::size_t i = 0; i < face_names().size(); ++i) {
      if (const auto gap = air.number_if(face_names()[i])) {
        item.air.emplace(static_cast<Face>(i), *gap);
      }
    }
  }

  static void add_ports(Equipment& item, const Record& record) {
    for (const auto& [name, port] : record.tables("port")) {
      const auto out = std::ranges::find(face_names(), port.text("out")) - face_names().begin();
      item.ports.push_back({name, port.text("kind"), port.vec3("at"), static_cast<Face>(out),
                            port.number("diameter")});
    }
  }

  /// Reports the first thing that has no image in the plane through the middle of the first box.
  void check_symmetry(const Equipment& item, const Record& record) {
    const double width = item.boxes.front().size.x;
    const auto image = [&](Vec3 p) { return Vec3{width - p.x, p.y, p.z}; };
    const auto same = [](Vec3 a, Vec3 b) { return length(a - b) < kSame; };
    std::string alone;
    const auto pairs_up = [&](const auto& list, const std::string& what, auto is_image) {
      for (std::size_t i = 0; i < list.size() && alone.empty(); ++i) {
        const auto image_of = [&](const auto& other) { return is_image(list[i], other); };
        if (std::ranges::none_of(list, image_of)) alone = what + " " + std::to_string(i + 1);
      }
    };
    pairs_up(item.boxes, "box", [&](const EquipmentBox& a, const EquipmentBox& b) {
      return same(a.size, b.size) && same(image(a.at + Vec3{a.size.x, 0, 0}), b.at);
    });
    pairs_up(item.feet, "foot", [&](Vec3 a, Vec3 b) { return same(image(a), b); });
    pairs_up(item.ports, "port", [&](const Port& a, const Port& b) {
      // Plus and minus, hot and cold must not change places: a port is its own image or has none.
      return a.name == b.name && same(image(a.at), a.at) && a.out != Face::left &&
             a.out != Face::right;
    });
    const auto air = [&](Face face) {
      const auto found = item.air.find(face);
      return found == item.air.end() ? 0.0 : found->second;
    };
    if (alone.empty() && std::abs(air(Face::left) - air(Face::right)) > kSame) alone = "air";
    if (alone.empty()) return;
    report("catalogue.not_symmetric", record.place("mirror"), item.key).with("alone", alone);
  }

  const Document& document_;
  Evaluator evaluator_;
  Findings findings_;
  Catalogue catalogue_;
};

template <class Item>
std::vector<std::string> keys_of(const std::map<std::string, Item, std::less<>>& items) {
  std::vector<std::string> keys;
  for (const auto& [key, item] : items) keys.push_back(key);
  return keys;
}

}  // namespace

Box Equipment::bounds() const {
  Box bounds;
  for (const EquipmentBox& box : boxes) {
    bounds.add(box.at);
    bounds.add(box.at + box.size);
  }
  return bounds;
}

std::optional<std::vector<std::string>> Catalogue::keys(std::string_view kind) const {
  if (kind == "material") return keys_of(materials);
  if (kind == "profile") return keys_of(profiles);
  if (kind == "sheet") return keys_of(sheets);
  if (kind == "slide") return keys_of(slides);
  if (kind == "hinge") return keys_of(hinges);
  if (kind == "bracket") return keys_of(brackets);
  if (kind == "bolt") return keys_of(bolts);
  if (kind == "nut") return keys_of(nuts);
  if (kind == "handle") return keys_of(handles);
  if (kind == "equipment") return keys_of(equipment);
  return std::nullopt;
}

Built<Catalogue> read_catalogue(const Document& document) {
  return CatalogueReader(document).read();
}

}  // namespace ribbay
