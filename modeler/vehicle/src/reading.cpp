#include "reading.hpp"

#include "base/tolerance.hpp"
#include "loft.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// More of one kind than any van has; a stated limit for hostile files.
constexpr std::size_t kMostTables = 100;

}  // namespace

const Place& Reading::place(std::string_view table) const {
  const Node* node = document_.root.find(table);
  return node != nullptr ? node->place : document_.root.place;
}

std::vector<std::string> Reading::names_in(std::string_view kind) const {
  std::vector<std::string> names;
  const Node* node = document_.root.find(kind);
  if (node == nullptr || node->table() == nullptr) return names;
  for (const Entry& entry : *node->table()) names.push_back(entry.key);
  return names;
}

Result<std::string> Reading::input(const std::string& path) const {
  const auto known = std::ranges::find(document_.inputs, path, &InputFile::path);
  return known != document_.inputs.end() ? Result<std::string>(known->bytes) : read_(path);
}

void Reading::declare_all() {
  for (const auto& [name, schema] : vehicle_schemas()) {
    if (stands_once(name)) {
      evaluator_.declare(name, schema, name);
      continue;
    }
    const Node* node = document_.root.find(name);
    if (node == nullptr || node->table() == nullptr) continue;
    for (const Entry& entry : *node->table()) evaluator_.declare(name + "." + entry.key, schema);
  }
}

bool Reading::read_head() {
  const auto head = evaluator_.record("vehicle");
  if (!head || evaluator_.is_misspelt("vehicle")) return false;
  head_ = *head;
  vehicle_.title = head_.text_or("title", "");
  vehicle_.floor_thickness = head_.number("floor_thickness");
  vehicle_.rear_sill = head_.number("rear_sill");
  vehicle_.gross_limit_kg = head_.number_if("gross_limit").value_or(0.0);
  vehicle_.wheelbase = head_.number_if("wheelbase");
  vehicle_.rear_closed = head_.text("rear") == "closed";
  vehicle_.front_closed = head_.text("front") == "closed";
  return true;
}

Finding& Reading::report(std::string code, const Place& place, std::string subject) {
  Finding finding = input_error(std::move(code), place);
  finding.subjects.push_back(std::move(subject));
  const bool told = std::ranges::any_of(findings_, [&](const Finding& other) {
    return other.code == finding.code && other.place == finding.place;
  });
  return told ? again_ = std::move(finding) : findings_.emplace_back(std::move(finding));
}

Result<Vehicle> Reading::finish() {
  Findings all = evaluator_.take_findings();
  all.insert(all.end(), findings_.begin(), findings_.end());
  if (!all.empty()) return fail(std::move(all));
  return std::move(vehicle_);
}

std::vector<Named> Reading::records(const std::string& table) {
  std::vector<Named> result;
  const Node* node = document_.root.find(table);
  if (node == nullptr) return result;
  if (node->table() == nullptr) {
    report("vehicle.not_tables", node->place, table);
    return result;
  }
  if (node->table()->size() > kMostTables) {
    report("vehicle.too_many", node->place, table)
        .with("count", static_cast<double>(node->table()->size()), Unit::count)
        .with("limit", static_cast<double>(kMostTables), Unit::count);
    return result;
  }
  for (const Entry& entry : *node->table()) {
    if (auto record = evaluator_.record(table + "." + entry.key)) {
      result.push_back({entry.key, std::move(*record)});
    }
  }
  return result;
}

bool Reading::rising(const Named& named, std::string_view low, std::string_view high) {
  const double from = named.record.number(low);
  const double to = named.record.number(high);
  if (to - from >= kContact) return true;
  report("vehicle.empty_range", named.record.place(high), named.name)
      .with("low_name", std::string(low))
      .with("low", from, Unit::mm)
      .with("high_name", std::string(high))
      .with("high", to, Unit::mm);
  return false;
}

bool Reading::along_stations(const std::string& name, const Place& place, double from, double to) {
  if (from >= vehicle_.x_min() - kSame && to <= vehicle_.x_max() + kSame) return true;
  report("vehicle.outside_stations", place, name)
      .with("from", from, Unit::mm)
      .with("to", to, Unit::mm)
      .with("first", vehicle_.x_min(), Unit::mm)
      .with("last", vehicle_.x_max(), Unit::mm);
  return false;
}

bool Reading::below_roof(const std::string& name, const Place& place, double x0, double x1,
                         double top) {
  const double roof = lowest_roof(vehicle_, x0, x1);
  if (top <= roof) return true;
  report("vehicle.above_roof", place, name).with("top", top, Unit::mm).with("roof", roof, Unit::mm);
  return false;
}

bool Reading::new_name(const std::string& kind, const std::string& name, const Place& place) {
  if (names_.insert(kind + "." + name).second) return true;
  report("vehicle.same_name", place, name).with("kind", kind);
  return false;
}

int Reading::copies(const Named& named) {
  const int count = static_cast<int>(named.record.number("count"));
  if (count > 1 && !named.record.has("pitch")) {
    report("vehicle.no_pitch", named.record.place("count"), named.name)
        .with("count", static_cast<double>(count), Unit::count);
    return 0;
  }
  return count;
}

std::vector<VanSide> sides_of(const Record& record) {
  const std::string& side = record.text("side");
  if (side == "both") return {VanSide::left, VanSide::right};
  return {side == "left" ? VanSide::left : VanSide::right};
}

std::string copy_name(const Named& named, bool both, VanSide side, int index, int count) {
  std::string name = named.name;
  if (both) name += side == VanSide::left ? "_left" : "_right";
  if (count > 1) name += "_" + std::to_string(index + 1);
  return name;
}

}  // namespace ribbay::detail
