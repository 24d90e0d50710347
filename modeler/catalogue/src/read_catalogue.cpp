#include "reader.hpp"
#include "schemas.hpp"

namespace ribbay {

namespace detail {

namespace {

bool is_colour(const std::string& text) {
  return text.size() == 7 && text[0] == '#' &&
         text.find_first_not_of("0123456789abcdef", 1) == std::string::npos;
}

}  // namespace

CatalogueReader::CatalogueReader(const Document& document)
    : document_(document),
      evaluator_(document, {.name = {},
                            .question = {},
                            .known_names = {},
                            .known_questions = {},
                            .catalogue = [this](std::string_view kind) { return written(kind); }}) {
}

Built<Catalogue> CatalogueReader::read() {
  declare_all();
  each("material", &CatalogueReader::add_material);
  each("bolt", &CatalogueReader::add_bolt);
  each("nut", &CatalogueReader::add_nut);
  each("profile", &CatalogueReader::add_profile);
  each("sheet", &CatalogueReader::add_sheet);
  each("plank", &CatalogueReader::add_plank);
  each("finish", &CatalogueReader::add_finish);
  each("slide", &CatalogueReader::add_slide);
  each("hinge", &CatalogueReader::add_hinge);
  each("butt_hinge", &CatalogueReader::add_butt_hinge);
  each("bracket", &CatalogueReader::add_bracket);
  each("plate", &CatalogueReader::add_plate);
  each("connector", &CatalogueReader::add_connector);
  each("dowel", &CatalogueReader::add_dowel);
  each("gasket", &CatalogueReader::add_gasket);
  each("handle", &CatalogueReader::add_handle);
  each("fitting", &CatalogueReader::add_fitting);
  each("equipment", &CatalogueReader::add_equipment);
  check_pairs("slide", catalogue_.slides);
  check_pairs("hinge", catalogue_.hinges);
  check_pairs("butt_hinge", catalogue_.butt_hinges);
  check_pairs("bracket", catalogue_.brackets);
  check_pairs("plate", catalogue_.plates);
  check_pairs("handle", catalogue_.handles);
  check_pairs("fitting", catalogue_.fittings);
  check_pairs("equipment", catalogue_.equipment);
  Findings all = evaluator_.take_findings();
  all.insert(all.end(), findings_.begin(), findings_.end());
  return {std::move(catalogue_), std::move(all)};
}

/// Names of the entries of a kind as written, sound or not: a reference to a faulty entry is no
/// fault.
std::optional<std::vector<std::string>> CatalogueReader::written(std::string_view kind) const {
  if (!catalogue_schema_of(kind)) return std::nullopt;
  std::vector<std::string> names;
  const Node* node = document_.root.find(kind);
  if (node == nullptr || node->table() == nullptr) return names;
  for (const Entry& entry : *node->table()) names.push_back(entry.key);
  return names;
}

/// Makes every entry known before any is read, so that expressions may name them in any order.
void CatalogueReader::declare_all() {
  for (const auto& [kind, schema] : catalogue_schemas()) {
    const Node* node = document_.root.find(kind);
    if (node == nullptr || node->table() == nullptr) continue;
    for (const Entry& entry : *node->table()) evaluator_.declare(kind + "." + entry.key, schema);
  }
}

/// Calls `add` for each entry of a kind that agrees with its schema and says where it comes from.
void CatalogueReader::each(const std::string& kind, Add add) {
  const Node* node = document_.root.find(kind);
  if (node == nullptr) return;
  if (node->table() == nullptr) {
    report("catalogue.not_tables", node->place, kind);
    return;
  }
  for (const Entry& entry : *node->table()) {
    const std::string path = kind + "." + entry.key;
    if (auto finding = made_by_set(entry, *node, kind)) {
      findings_.push_back(std::move(*finding));
      continue;
    }
    const auto record = evaluator_.record(path);
    if (!record) continue;
    if (!record->flag("assumption") && record->text_or("source", "").empty()) {
      report("catalogue.no_source", record->place(), path);
      continue;
    }
    (this->*add)(entry.key, *record);
  }
}

Finding& CatalogueReader::report(std::string code, const Place& place, std::string subject) {
  Finding finding = input_error(std::move(code), place);
  finding.subjects.push_back(std::move(subject));
  return findings_.emplace_back(std::move(finding));
}

/// An item whose pair is faulty is left out; a pair that does not name the item back is reported.
template <class Item>
void CatalogueReader::check_pairs(const std::string& kind,
                                  std::map<std::string, Item, std::less<>>& items) {
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

/// Reports that what belongs to `family` must have a field.
void CatalogueReader::report_missing(const std::string& subject, const Record& record,
                                     const std::string& family, const std::string& field) {
  report("catalogue.size_missing", record.place(), subject)
      .with("family", family)
      .with("field", field);
}

bool CatalogueReader::good_colour(const std::string& key, const Record& record) {
  if (is_colour(record.text("colour"))) return true;
  report("catalogue.colour", record.place("colour"), key).with("colour", record.text("colour"));
  return false;
}

/// Reports a size that must be larger than another one and is not.
bool CatalogueReader::larger(const std::string& key, const Record& record, std::string_view field,
                             double than, std::string_view other, Unit unit) {
  const double size = record.number(field);
  if (size > than) return true;
  report("catalogue.too_small", record.place(field), key)
      .with("field", std::string(field))
      .with("size", size, unit)
      .with("other", std::string(other))
      .with("than", than, unit);
  return false;
}

}  // namespace detail

namespace {

template <class Item>
std::vector<std::string> keys_of(const std::map<std::string, Item, std::less<>>& items) {
  std::vector<std::string> keys;
  for (const auto& [key, item] : items) keys.push_back(key);
  return keys;
}

/// Keys of the items that suit a purpose.
std::vector<std::string> keys_where(const auto& items, auto suits) {
  std::vector<std::string> keys;
  for (const auto& [key, item] : items) {
    if (suits(item)) keys.push_back(key);
  }
  return keys;
}

/// Keys of the entries of one table that serve one purpose: "bolt: wood screw".
std::optional<std::vector<std::string>> keys_for(const Catalogue& all, std::string_view purpose) {
  const auto of_kind = [](auto kind) { return [kind](const auto& item) { return item.kind == kind; }; };
  if (purpose == "bolt: wood screw") return keys_where(all.bolts, of_kind(BoltKind::wood));
  if (purpose == "bolt: machine bolt") return keys_where(all.bolts, of_kind(BoltKind::machine));
  if (purpose == "bolt: shelf pin") return keys_where(all.bolts, of_kind(BoltKind::pin));
  if (purpose == "bolt: screw or bolt")
    return keys_where(all.bolts, [](const Bolt& bolt) { return bolt.kind != BoltKind::pin; });
  if (purpose == "finish: edge band")
    return keys_where(all.finishes, of_kind(FinishKind::edge_band));
  if (purpose == "sheet: load-bearing sheet")
    return keys_where(all.sheets, [](const Sheet& sheet) { return !sheet.insulation; });
  if (purpose == "sheet: insulation board")
    return keys_where(all.sheets, [](const Sheet& sheet) { return sheet.insulation; });
  constexpr std::string_view kFittings = "fitting: ";
  if (!purpose.starts_with(kFittings)) return std::nullopt;
  const std::string uses = " or " + std::string(purpose.substr(kFittings.size())) + " or ";
  return keys_where(all.fittings, [&](const Fitting& fitting) {
    return uses.find(" or " + fitting.use + " or ") != std::string::npos;
  });
}

}  // namespace

Box Equipment::bounds() const {
  return ribbay::bounds(imported ? *imported : body_shape(boxes, rounds));
}

Box Equipment::body() const {
  if (boxes.empty()) return bounds();
  return {boxes.front().at, boxes.front().at + boxes.front().size};
}

Shape body_shape(const std::vector<EquipmentBox>& boxes, const std::vector<BodyRound>& rounds) {
  Shape shape;
  for (const EquipmentBox& box : boxes) {
    shape.prisms.push_back(box_shape(box.at, box.at + box.size).prisms.front());
  }
  for (const BodyRound& round : rounds) {
    const Vec3 across = std::abs(round.axis.z) < 0.5 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
    shape.prisms.push_back(
        cylinder(round.diameter, round.length, frame_zx(round.at, round.axis, across)));
  }
  return shape;
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
  if (kind == "plank") return keys_of(planks);
  if (kind == "finish") return keys_of(finishes);
  if (kind == "butt_hinge") return keys_of(butt_hinges);
  if (kind == "plate") return keys_of(plates);
  if (kind == "connector") return keys_of(connectors);
  if (kind == "dowel") return keys_of(dowels);
  if (kind == "gasket") return keys_of(gaskets);
  if (kind == "fitting") return keys_of(fittings);
  if (kind == "equipment") return keys_of(equipment);
  return keys_for(*this, kind);
}

Built<Catalogue> read_catalogue(const Document& document) {
  return detail::CatalogueReader(document).read();
}

}  // namespace ribbay
