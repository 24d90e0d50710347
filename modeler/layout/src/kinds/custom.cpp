#include "custom.hpp"

#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace ribbay::detail {

namespace {

struct Way {
  const char* word;
  Vec3 axis;
};
constexpr std::array<Way, 6> kWays{{{"right", {1, 0, 0}},
                                    {"left", {-1, 0, 0}},
                                    {"back", {0, 1, 0}},
                                    {"front", {0, -1, 0}},
                                    {"up", {0, 0, 1}},
                                    {"down", {0, 0, -1}}}};

struct HoleUse {
  const char* word;
  BoreRole role;
};
constexpr std::array<HoleUse, 6> kHoleUses{{{"bolt", BoreRole::bolt},
                                            {"screw", BoreRole::screw},
                                            {"pilot", BoreRole::pilot},
                                            {"access", BoreRole::access},
                                            {"shelf pin", BoreRole::shelf_pin},
                                            {"handle", BoreRole::handle}}};

template <class Row, std::size_t count>
std::vector<std::string> words_of(const std::array<Row, count>& rows) {
  std::vector<std::string> words;
  for (const Row& row : rows) words.emplace_back(row.word);
  return words;
}

}  // namespace

const std::vector<std::string>& ways() {
  static const std::vector<std::string> words = words_of(kWays);
  return words;
}

Vec3 way(std::string_view word) {
  return std::ranges::find(kWays, word, &Way::word)->axis;
}

BoreRole hole_use(const Record& hole) {
  return std::ranges::find(kHoleUses, std::string_view(hole.text("use")),
                           [](const HoleUse& use) { return std::string_view(use.word); })
      ->role;
}

bool is_too_deep(CustomWork& work, const Record& hole, const std::string& part, double depth,
                 double thickness) {
  if (depth <= thickness + kContact) return false;
  work.shop.find(work.fault("custom.hole_too_deep", hole.place("depth"), part)
                     .with("measured", depth, Unit::mm)
                     .with("required", thickness, Unit::mm));
  return true;
}

Field hole_use_field() {
  return choice_field("use", words_of(kHoleUses)).otherwise("bolt").means("what it is for");
}

Field copies_field() {
  return table_field(
             "repeat",
             {count_field("count").needed().at_least(1).at_most(100).means("how many there are"),
              vector_field("pitch").needed().means(
                  "from one to the next: to the right, to the back, up")})
      .means("it is made several times, as NAME_1, NAME_2 and so on; its own name means them all");
}

Field part_title_field() {
  return text_field("title").means("what drawings and lists call it; by default its name");
}

std::string part_title(const Record& fields, std::string name) {
  std::ranges::replace(name, '_', ' ');
  if (name[0] >= 'a' && name[0] <= 'z') name[0] = static_cast<char>(name[0] - 'a' + 'A');
  return fields.text_or("title", name);
}

FieldMaker flat_field(std::string name) {
  return FieldMaker{std::move(name), FieldKind::vector, dimension::length}.items(2, 2);
}

Field way_field(std::string name, std::string meaning, std::string otherwise) {
  FieldMaker field = choice_field(std::move(name), ways());
  if (!otherwise.empty()) std::move(field).otherwise(std::move(otherwise));
  return std::move(field).means(std::move(meaning));
}

Finding CustomWork::fault(const char* code, const Place& place, const std::string& name) const {
  Finding finding = input_error(code, place);
  finding.subjects = {shop.id(name)};
  return finding;
}

std::vector<Copy> CustomWork::copies(const std::string& name, const Record& fields) {
  const bool repeated = fields.has("repeat");
  const int count = repeated ? static_cast<int>(fields.table("repeat").number("count")) : 1;
  const Vec3 pitch = repeated ? fields.table("repeat").vec3("pitch") : Vec3{};
  std::vector<Copy> all;
  for (int i = 0; i < count; ++i) {
    std::string copy = name;
    if (repeated) copy.append("_").append(std::to_string(i + 1));
    all.push_back({std::move(copy), pitch * i});
  }
  const auto taken = [&](const Copy& copy) { return names.contains(copy.name); };
  if (names.contains(name) || std::ranges::any_of(all, taken)) {
    shop.find(fault("custom.same_name", fields.place(), name));
    return {};
  }
  for (const Copy& copy : all) {
    names[copy.name] = {copy.name};
    shifts[copy.name] = copy.shift;
    if (repeated) names[name].push_back(copy.name);
  }
  return all;
}

void CustomWork::make_each(const char* table,
                           void (*make)(CustomWork&, const std::string& name, const Record& fields),
                           const char* prefix) {
  for (const auto& [name, fields] : request.fields.tables(table)) {
    make(*this, name, fields);
    if (!names.contains(prefix + name)) failed.insert(prefix + name);
  }
}

std::vector<std::string> CustomWork::parts(const Record& fields, const char* field,
                                           const std::string& word) {
  if (const auto found = names.find(word); found != names.end()) return found->second;
  if (failed.contains(word) || failed.contains(word.substr(0, word.rfind('_')))) return {};
  std::vector<std::string> known;
  for (const auto& [name, parts] : names) known.push_back(name);
  Finding finding = input_error("custom.unknown_part", fields.place(field));
  finding.subjects = {request.name};
  finding.with("field", field).with("found", word);
  finding.with("known", known.empty() ? "none" : ribbay::join(known, ", "));
  const std::string guess = nearest(word, known);
  if (!guess.empty()) finding.with("nearest", guess);
  shop.find(std::move(finding));
  return {};
}

std::vector<std::string> CustomWork::all_parts(const Record& fields, const char* field) {
  std::vector<std::string> all;
  for (const std::string& word : fields.texts(field)) {
    const auto more = parts(fields, field, word);
    all.insert(all.end(), more.begin(), more.end());
  }
  return all;
}

Joiner::Joiner(CustomWork& work, const std::string& table, const std::string& name,
               const Record& fields)
    : work_{work},
      request_{.name = work.request.name + "." + table + "." + name,
               .fields = fields,
               .size = work.request.size,
               .frame = work.request.frame,
               .vehicle = work.request.vehicle,
               .catalogue = work.request.catalogue,
               .mirrored = work.request.mirrored},
      joinery_{request_, work.shop} {}

void Joiner::take(Workpiece& piece) {
  if (piece.board() == nullptr || taken_.contains(&piece)) return;
  taken_[&piece] = &joinery_.add(*piece.board());
}

void Joiner::give_back() {
  for (const auto& [piece, board] : taken_) *piece->board() = *board;
  joinery_.tell_misfits();
}

Workpiece* one_panel(CustomWork& work, const Record& fields, const char* field) {
  const auto parts = work.parts(fields, field, fields.text(field));
  if (parts.size() != 1) return nullptr;
  const auto piece = work.pieces.find(parts.front());
  if (piece == work.pieces.end() || piece->second.board() == nullptr) return nullptr;
  return &piece->second;
}

namespace {

/// Warns of parts that reach out of the space that the module says it takes.
void check_envelope(CustomWork& work) {
  constexpr std::array<const char*, 3> high{"right", "back", "top"};
  constexpr std::array<const char*, 3> low{"left", "front", "underside"};
  for (const Part& part : work.shop.made().parts) {
    if (part.kind == PartKind::hardware) continue;
    Box box;
    box.add(work.request.from_van(bounds(part).lo));
    box.add(work.request.from_van(bounds(part).hi));
    for (int axis = 0; axis < 3; ++axis) {
      const double over = box.hi[axis] - work.request.size[axis];
      const double under = -box.lo[axis];
      if (std::max(over, under) <= kContact) continue;
      const auto i = static_cast<std::size_t>(axis);
      Finding finding;
      finding.code = "custom.outside";
      finding.severity = Severity::warning;
      finding.subjects = {part.id};
      work.shop.find(std::move(finding)
                         .with("measured", std::max(over, under), Unit::mm)
                         .with("side", over > under ? high[i] : low[i]));
    }
  }
}

/// Members stand in the air around equipment without stopping it; panels do.
void let_air_through(Workshop& shop) {
  std::vector<std::string> open;
  for (const Part& part : shop.made().parts) {
    if (part.kind == PartKind::member || part.kind == PartKind::hardware) open.push_back(part.id);
  }
  for (Zone& zone : shop.made().zones) {
    if (zone.kind == ZoneKind::air) zone.allowed = open;
  }
}

ModuleParts make_custom(const ModuleRequest& request) {
  Workshop shop(request);
  CustomWork work{request, shop};
  make_members(work);
  make_panels(work);
  make_bent(work);
  make_planks(work);
  make_bought(work);
  make_hinges(work);
  make_cup_hinges(work);
  make_slides(work);
  make_joints(work);
  make_all(shop, work.pieces);
  make_brackets(work);
  let_air_through(shop);
  make_motions(work);
  check_slides(work);
  make_spaces(work);
  check_envelope(work);
  if (shop.made().parts.empty() && !has_errors(shop.made().findings)) {
    Finding finding = input_error("custom.empty", request.fields.place());
    finding.subjects = {request.name};
    shop.find(std::move(finding));
  }
  return shop.finish();
}

std::vector<Field> custom_fields() {
  std::vector<Field> fields{members_field(), panels_field(), bent_field(), custom_planks_field()};
  const auto append = [&](std::vector<Field> more) {
    fields.insert(fields.end(), std::make_move_iterator(more.begin()),
                  std::make_move_iterator(more.end()));
  };
  append(hinge_fields());
  fields.push_back(cup_hinges_field());
  fields.push_back(slides_field());
  append(bought_fields());
  fields.push_back(joints_field());
  fields.push_back(motions_field());
  append(space_fields());
  return fields;
}

}  // namespace

Kind custom_kind() {
  return {.name = "custom",
          .schema = module_schema(
              "custom",
              "anything, told part by part: places are to the right, to the back and up from the "
              "module's lower left front corner",
              custom_fields()),
          .generate = make_custom};
}

}  // namespace ribbay::detail
