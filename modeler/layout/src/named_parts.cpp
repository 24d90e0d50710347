#include "base/text.hpp"
#include "planner.hpp"
#include "spec/fields.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

std::vector<std::string> ids_of_van(const Vehicle& vehicle) {
  std::vector<std::string> ids;
  for (const VehicleBody& body : vehicle_bodies(vehicle)) ids.push_back(body.id);
  return ids;
}

}  // namespace

/// Whether `to` is something that a gap can be kept to, or its absence has been told or is meant: a
/// module that is left out or failed has no parts.
bool Planner::is_gap_target(const std::string& to, const Layout& layout) {
  if (to == "vehicle") return true;
  const std::string module = to.substr(0, to.find('/'));
  if (module == "vehicle") {
    const std::vector<std::string> ids = ids_of_van(*layout.vehicle);
    return std::ranges::find(ids, to) != ids.end();
  }
  if (repeats_.counts.contains(module)) return true;  // told as a repeated name
  if (has_failed(module)) return true;
  if (planned(module) == nullptr) return false;
  if (module == to || wanted(module) != true || layout.find(to) != nullptr) return true;
  const auto& made = parts(module);
  return !made || has_errors(made->findings);
}

/// A gap to something that does not exist would be kept by everything.
void Planner::check_gap_targets(const Layout& layout) {
  for (const Module& module : layout.modules) {
    const Record record = *evaluator_.record("module." + module.name);
    for (const auto& [gap_name, gap] : record.tables("gaps")) {
      const std::string& to = gap.text("to");
      if (to == module.name) {
        Finding finding = input_error("layout.gap_to_itself", gap.place("to"));
        finding.subjects = {module.name};
        findings_.push_back(std::move(finding).with("gap", gap_name));
        continue;
      }
      if (is_gap_target(to, layout)) continue;
      std::vector<std::string> known;
      for (const auto& [name, ignored] : modules_) {
        if (name != module.name) known.push_back(name);
      }
      known.emplace_back("vehicle");
      Finding finding = input_error("layout.unknown_gap_target", gap.place("to"));
      finding.subjects = {module.name};
      finding.with("gap", gap_name).with("found", to).with("known", join(known, ", "));
      if (to.find('/') != std::string::npos) {
        for (const Part& part : layout.parts) known.push_back(part.id);
        for (std::string& id : ids_of_van(*layout.vehicle)) known.push_back(std::move(id));
      }
      const std::string guess = nearest(to, known);
      if (!guess.empty()) finding.with("nearest", guess);
      findings_.push_back(std::move(finding));
    }
  }
}

/// What a module says it is screwed to, and whom it lets stand in its free spaces, must be there: a
/// part of some module, or a body of the van.
void Planner::check_hosts(const Layout& layout) {
  std::vector<std::string> known;
  for (const Part& part : layout.parts) known.push_back(part.id);
  for (std::string& id : ids_of_van(*layout.vehicle)) known.push_back(std::move(id));
  const auto check = [&](const Module& module, const Record& record, const char* field,
                         const std::string& found) {
    if (found.find('/') != std::string::npos && is_gap_target(found, layout)) return;
    Finding finding = input_error("layout.no_such_host", record.place(field));
    finding.subjects = {module.name};
    finding.with("field", field).with("found", found);
    const std::string guess = nearest(found, known);
    if (!guess.empty()) finding.with("nearest", guess);
    findings_.push_back(std::move(finding));
  };
  for (const Module& module : layout.modules) {
    const Record record = *evaluator_.record("module." + module.name);
    for (const char* field : {"fixed_to", "into"}) {
      if (!record.has(field)) continue;
      const std::vector<std::string> hosts = module.kind == "sled"
                                                 ? std::vector{record.text(field)}
                                                 : record.texts(field);
      for (const std::string& host : hosts) check(module, record, field, host);
    }
    if (module.kind != "custom") continue;
    for (const auto& [name, zone] : record.tables("zones")) {
      if (!zone.has("allowed")) continue;
      for (const std::string& word : zone.texts("allowed")) {
        if (word.find('/') != std::string::npos) check(module, zone, "allowed", word);
      }
    }
  }
}

SchemaPtr one_at_a_time_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(
      Schema{"one_at_a_time",
             "drawers, doors, lids and tops of which one is shut before another is opened: they are "
             "not checked against each other",
             {FieldMaker{"motions", FieldKind::texts}.items(1, 100).needed().means(
                 "ids of motions, as findings name them, or modules: all of theirs")}});
  return schema;
}

/// A name is a motion, or a module that has some.
void Planner::read_one_at_a_time(Layout& layout) {
  for (const auto& [key, record] : named_records("one_at_a_time", one_at_a_time_schema())) {
    const std::string path = "one_at_a_time." + key;
    OneAtATime rule{key, {}};
    bool whole = true;  // every name stands for something
    for (const std::string& name : record.texts("motions")) {
      const std::string module = name.substr(0, name.find('/'));
      const std::size_t before = rule.motions.size();
      std::vector<std::string> known;
      for (const Motion& motion : layout.motions) {
        known.push_back(motion.id);
        if (motion.id == name || motion.id.starts_with(name + "/")) rule.motions.push_back(motion.id);
      }
      // What failed has been told, and what is left out moves nothing.
      const bool meant = planned(module) != nullptr && layout.module(module) == nullptr;
      if (rule.motions.size() > before) continue;
      whole = false;
      if (has_failed(module) || meant) continue;
      Finding finding = input_error("layout.no_such_motion", record.place("motions"));
      finding.subjects = {path};
      finding.with("found", name).with("known", known.empty() ? "none" : join(known, ", "));
      const std::string guess = nearest(name, known);
      if (!guess.empty()) finding.with("nearest", guess);
      findings_.push_back(std::move(finding));
    }
    std::ranges::sort(rule.motions);
    const auto [twice, end] = std::ranges::unique(rule.motions);
    rule.motions.erase(twice, end);
    if (whole && rule.motions.size() < 2) {
      Finding finding = input_error("layout.one_motion_alone", record.place("motions"));
      finding.subjects = {path};
      findings_.push_back(std::move(finding).with("found", join(rule.motions, "")));
      continue;
    }
    layout.one_at_a_time.push_back(std::move(rule));
  }
}

}  // namespace ribbay::detail
