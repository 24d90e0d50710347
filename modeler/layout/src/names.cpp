#include "base/text.hpp"
#include "placement.hpp"
#include "planner.hpp"
#include "questions.hpp"

#include <algorithm>
#include <array>

namespace ribbay::detail {

namespace {

constexpr std::array<const char*, 6> kSides = {"rear", "front", "right", "left", "bottom", "top"};
constexpr std::array<const char*, 3> kSizes = {"width", "depth", "height"};

std::optional<double> side_of(const Box& box, std::string_view side) {
  if (side == "rear") return box.lo.x;
  if (side == "front") return box.hi.x;
  if (side == "right") return box.lo.y;
  if (side == "left") return box.hi.y;
  if (side == "bottom") return box.lo.z;
  if (side == "top") return box.hi.z;
  return std::nullopt;
}

Lookup unknown_port(const std::string& module, const std::string& port,
                    const std::map<std::string, Box>& ports) {
  std::vector<std::string> known;
  for (const auto& [name, box] : ports) known.push_back(name);
  Finding finding;
  finding.code = "layout.unknown_port";
  finding.subjects = {module};
  finding.with("found", port).with("known", known.empty() ? "none" : join(known, ", "));
  return Lookup::because(std::move(finding));
}

SchemaPtr schema_of_stock(std::string_view table) {
  const auto& schemas = catalogue_schemas();
  const auto found = std::ranges::find(schemas, table, &std::pair<std::string, SchemaPtr>::first);
  return found == schemas.end() ? nullptr : found->second;
}

bool is_number(const Field& field) {
  return field.kind == FieldKind::quantity || field.kind == FieldKind::count;
}

/// Of a dotted name the word at `at` is not one that is known there.
Lookup no_stock_number(std::vector<std::string> words, std::size_t at,
                       const std::vector<std::string>& known) {
  Finding finding;
  finding.code = "layout.no_stock_number";
  finding.subjects = {join(words, ".")};
  words.resize(std::max(words.size(), at + 1));
  words[at] = nearest(words[at], known);
  finding.with("known", join(known, ", "));
  finding.with("nearest", words[at].empty() ? "one of these" : join(words, "."));
  return Lookup::because(std::move(finding));
}

}  // namespace

Resolvers Planner::resolvers() {
  return {.name = [this](std::string_view name) { return look_up(name); },
          .question =
              [this](std::string_view word, std::span<const Quantity> arguments) {
                return vehicle_ ? answer(*vehicle_, word, arguments) : Lookup::reported();
              },
          .known_names = [this] { return names(); },
          .known_questions =
              [this] { return vehicle_ ? questions(*vehicle_) : std::vector<std::string>{}; },
          .catalogue = [this](std::string_view kind) { return catalogue_->keys(kind); }};
}

std::vector<std::string> Planner::names() const {
  std::vector<std::string> all;
  for (const auto& [name, value] : facts_) all.push_back("vehicle." + name);
  for (const auto& [name, planned] : modules_) {
    for (const char* side : kSides) all.push_back(name + "." + side);
  }
  return all;
}

Lookup Planner::look_up(std::string_view name) {
  const std::vector<std::string> words = split(name);
  if (words[0] == "vehicle") return words.size() < 2 ? Lookup{} : vehicle_fact(name.substr(8));
  if (has_failed(words[0])) return Lookup::reported();
  if (auto finding = repeated(words[0])) return Lookup::because(std::move(*finding));
  const Planned* module = planned(words[0]);
  if (module == nullptr) return stock_fact(words);
  const auto counts = wanted(words[0]);
  if (!counts) return Lookup::reported();
  if (words.size() == 2 && words[1] == "index") return copy_index(words[0], *module);
  // What it would be is not known without making it; who names it there is told that it is left
  // out.
  if (!*counts) return Lookup::left_out(dimension::length);
  if (words.size() == 2) return module_word(words[0], words[1]);
  if (words.size() == 3) return port_side(words[0], words[1], words[2]);
  return {};
}

Lookup Planner::vehicle_fact(std::string_view name) const {
  if (!vehicle_) return Lookup::reported();
  const auto fact = std::ranges::find(facts_, name, &std::pair<std::string, Quantity>::first);
  return fact == facts_.end() ? Lookup{} : Lookup::of(fact->second.value, fact->second.dimension);
}

/// A number of an entry of the stock: "sheet.birch_18.thickness".
Lookup Planner::stock_fact(const std::vector<std::string>& words) {
  const std::string& table = words[0];
  const SchemaPtr schema = schema_of_stock(table);
  if (!schema || words.size() < 2) return {};
  const std::string path = table + "." + words[1];
  const std::vector<std::string> keys = catalogue_->keys(table).value();
  if (std::ranges::find(keys, words[1]) == keys.end()) {
    const Node* entries = project_.root.find(table);
    const bool faulty = entries != nullptr && entries->find(words[1]) != nullptr;
    return faulty ? Lookup::reported() : no_stock_number(words, 1, keys);
  }
  const Field* field = words.size() == 3 ? schema->find(words[2]) : nullptr;
  if (field == nullptr || !is_number(*field)) {
    std::vector<std::string> numbers;
    for (const Field& each : schema->fields) {
      if (is_number(each)) numbers.push_back(each.name);
    }
    return no_stock_number(words, 2, numbers);
  }
  evaluator_.declare(path, schema);
  const auto value = evaluator_.number(path, words[2]);
  if (value) return Lookup::of(*value, field->dimension);
  Finding finding;
  finding.code = "layout.stock_not_given";
  finding.subjects = {path, words[2]};
  return Lookup::because(std::move(finding));
}

/// A repeated module has no place of its own, only its copies have.
std::optional<Finding> Planner::repeated(const std::string& name) const {
  const auto found = repeats_.counts.find(name);
  if (found == repeats_.counts.end()) return std::nullopt;
  Finding finding;
  finding.code = "layout.repeated_name";
  finding.subjects = {name};
  finding.with("count", found->second, Unit::count);
  return finding;
}

Lookup Planner::copy_index(const std::string& name, const Planned& module) const {
  if (repeats_.copies.contains(name)) return Lookup::of(module.copy, dimension::none);
  Finding finding;
  finding.code = "layout.no_index";
  finding.subjects = {name};
  return Lookup::because(std::move(finding));
}

std::optional<bool> Planner::wanted(const std::string& name) {
  return evaluator_.wanted("module." + name);
}

Lookup Planner::module_word(const std::string& module, const std::string& word) {
  const bool known = std::ranges::find(kSides, word) != kSides.end() ||
                     std::ranges::find(kSizes, word) != kSizes.end();
  if (!known) return {};
  if (!is_placed(module)) return Lookup::reported();
  return Lookup::of(envelope_number(*envelope(module), module, word), dimension::length);
}

Lookup Planner::port_side(const std::string& module, const std::string& port,
                          std::string_view side) {
  const Lookup made = evaluator_.remember(module + " (its parts)", placing(module), [&] {
    return parts(module) ? Lookup::of(0, {}) : Lookup::reported();
  });
  if (made.state != Lookup::State::known) return Lookup::reported();
  const ModuleParts& all = *parts(module);
  const auto box = all.ports.find(port);
  // A module that could not be made whole may lack a port for the reason already told.
  if (box == all.ports.end()) {
    return has_errors(all.findings) ? Lookup::reported() : unknown_port(module, port, all.ports);
  }
  const auto value = side_of(box->second, side);
  return value ? Lookup::of(*value, dimension::length) : Lookup{};
}

double Planner::envelope_number(const Box& box, const std::string& module, std::string_view word) {
  if (const auto value = side_of(box, word)) return *value;
  const Vec3 size = module_size(box, *evaluator_.text("module." + module, "faces"));
  return word == "width" ? size.x : word == "depth" ? size.y : size.z;
}

}  // namespace ribbay::detail
