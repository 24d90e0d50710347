#include "planner.hpp"

#include "base/text.hpp"
#include "door_ways.hpp"
#include "finishes.hpp"
#include "floor.hpp"
#include "floor_angles.hpp"
#include "hung.hpp"
#include "placement.hpp"
#include "prices.hpp"
#include "sawing.hpp"
#include "screw_bores.hpp"
#include "tolerances.hpp"
#include "spec/currency.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Equal parts point to one shape, so that everything after this works once per distinct shape.
void share_shapes(std::vector<Part>& parts) {
  std::map<std::string, ShapePtr> known;
  const auto share = [&](ShapePtr& shape) {
    if (shape) shape = known.emplace(key(*shape), shape).first->second;
  };
  for (Part& part : parts) {
    share(part.shape);
    share(part.finished);
  }
}

/// Says of bought things that a module lacks what their fields take, and what lists it.
void tell_stock(Findings& findings, const Schema& schema) {
  for (Finding& finding : findings) {
    if (finding.code != "carcass.item_missing") continue;
    const Field* field = schema.find(std::get<std::string>(finding.argument("item")->value));
    if (field == nullptr) continue;
    const std::size_t colon = field->refers_to.find(": ");
    std::string purpose = field->refers_to.substr(colon == std::string::npos ? 0 : colon + 2);
    std::ranges::replace(purpose, ' ', '_');
    finding.with("takes", describe(*field)).with("purpose", std::move(purpose));
  }
}

/// A size that is missing because its name is misspelt: the unknown key says so and suggests it.
bool is_misspelt_size(const Finding& finding, const Findings& all) {
  if (finding.code != "layout.needs_size") return false;
  const std::string table = "module." + finding.subjects.front();
  const std::string& field = std::get<std::string>(finding.argument("field")->value);
  return std::ranges::any_of(all, [&](const Finding& other) {
    const Argument* guess = other.argument("nearest");
    return other.code == "input.unknown_key" && guess != nullptr &&
           std::get<std::string>(guess->value) == field &&
           std::get<std::string>(other.argument("table")->value) == table;
  });
}

void sort_layout(Layout& layout) {
  const auto by_id = [](auto& list) {
    std::ranges::sort(list, {}, [](const auto& item) -> const std::string& { return item.id; });
  };
  by_id(layout.parts);
  by_id(layout.joints);
  by_id(layout.motions);
  by_id(layout.zones);
  by_id(layout.gaps);
  by_id(layout.supports);
  by_id(layout.floor_bolts);
  by_id(layout.removals);
}

}  // namespace

Planner::Planner(const Document& project, std::shared_ptr<const Vehicle> vehicle,
                 std::shared_ptr<const Catalogue> catalogue)
    : repeats_{expand_repeats(project)},
      project_{repeats_.expanded ? *repeats_.expanded : project},
      vehicle_{std::move(vehicle)},
      catalogue_{std::move(catalogue)},
      facts_{vehicle_ ? vehicle_facts(*vehicle_) : std::vector<std::pair<std::string, Quantity>>{}},
      evaluator_{project_, resolvers()} {
  evaluator_.declare("project", project_schema());
  evaluator_.declare("saw", saw_schema());
  evaluator_.declare("tolerances", tolerances_schema());
  if (project_.root.find("rates") != nullptr) evaluator_.declare("rates", rates_schema());
  const auto currency = evaluator_.text("project", "currency");
  if (currency && is_currency(*currency)) evaluator_.use_currency(*currency);
  declare_modules(project);
}

Built<std::optional<Layout>> Planner::run() {
  check_tables();
  Layout layout;
  layout.vehicle = vehicle_;
  layout.catalogue = catalogue_;
  if (const auto record = evaluator_.record("project")) read_info(*record, layout, findings_);
  if (const auto record = evaluator_.record("tolerances"))
    layout.tolerances = read_tolerances(*record);
  read_stock_at_hand(layout);
  read_prices(layout);
  for (const auto& [name, finding] : repeats_.failed) {
    if (planned(name) == nullptr) continue;
    if (!evaluator_.record("module." + name) && finding.code == "layout.repeat_count") continue;
    findings_.push_back(finding);
  }
  for (const auto& [name, module] : modules_) add_module(name, *module.kind, layout);
  if (vehicle_) add_door_ways(layout);
  sort_layout(layout);
  bore_for_screws(layout);
  share_shapes(layout.parts);
  if (vehicle_) check_floor_bolts(layout, findings_);
  if (vehicle_) check_gap_targets(layout);
  if (vehicle_) check_hosts(layout);
  if (vehicle_) read_one_at_a_time(layout);
  Findings all = evaluator_.take_findings();
  all.insert(all.end(), findings_.begin(), findings_.end());
  finish_findings(all);
  if (!vehicle_) return {std::nullopt, std::move(all)};
  return {std::move(layout), std::move(all)};
}

/// How the shop saws, and what it has left from before.
void Planner::read_stock_at_hand(Layout& layout) {
  if (const auto record = evaluator_.record("saw")) layout.sawing = read_sawing(*record);
  for (const auto& [name, record] : named_records("offcut", offcut_schema())) {
    if (auto offcut = read_offcut(name, record, *catalogue_, findings_))
      layout.offcuts.push_back(std::move(*offcut));
  }
}

void Planner::read_prices(Layout& layout) {
  for (const auto& [key, record] : named_records("price", price_schema())) {
    if (auto price = read_price(key, record, *catalogue_, findings_))
      layout.prices.push_back(std::move(*price));
  }
  std::ranges::stable_sort(layout.prices, {}, &Price::key);
  if (project_.root.find("rates") == nullptr) return;
  const auto record = evaluator_.record("rates");
  if (!record) return;
  layout.rates = read_rates(*record);
  std::vector<std::string> names;
  for (const auto& [name, module] : modules_) names.push_back(name);
  names.insert(names.end(), failed_modules_.begin(), failed_modules_.end());
  check_rates(*record, names, findings_);
}

/// The sound ones of [table.NAME], by name; anything else that stands there is reported.
std::vector<std::pair<std::string, Record>> Planner::named_records(const std::string& table,
                                                                   const SchemaPtr& schema) {
  std::vector<std::pair<std::string, Record>> records;
  const Node* node = project_.root.find(table);
  if (node == nullptr) return records;
  if (node->table() == nullptr) {
    Finding finding = input_error("input.wrong_type", node->place);
    finding.subjects = {table};
    findings_.push_back(std::move(finding)
                            .with("found", std::string(node->kind_name()))
                            .with("expected", "a table for each, with a name of its own")
                            .with("example", "[" + table + ".first]"));
    return records;
  }
  for (const Entry& entry : *node->table()) {
    const std::string path = table + "." + entry.key;
    evaluator_.declare(path, schema);
    if (auto record = evaluator_.record(path)) records.emplace_back(entry.key, std::move(*record));
  }
  return records;
}

/// What the files say outside the modules.
void Planner::check_tables() {
  std::vector<std::string> tables = {"format",  "include", "project", "values",
                                     "options", "module",  "saw",     "offcut", "price", "rates",
                                     "tolerances", "one_at_a_time"};
  for (const auto& [name, schema] : catalogue_schemas()) tables.push_back(name);
  evaluator_.check_top_level(tables);
  evaluator_.check_values();
}

bool Planner::has_failed(const std::string& name) const {
  return std::ranges::find(failed_modules_, name) != failed_modules_.end() ||
         evaluator_.in_unknown_table(name);
}

Planner::Planned* Planner::planned(std::string_view name) {
  const auto found = std::ranges::find(modules_, name, [](const auto& m) { return m.first; });
  return found == modules_.end() ? nullptr : &found->second;
}

/// Computes the envelope when it is first needed; needing it while it is computed is a cycle.
bool Planner::is_placed(const std::string& name) {
  const auto compute = [&] { return envelope(name) ? Lookup::of(0, {}) : Lookup::reported(); };
  return evaluator_.remember(name + " (its place)", placing(name), compute).state ==
         Lookup::State::known;
}

/// Where the file says where a module stands, or else its table.
const Place& Planner::placing(const std::string& name) const {
  const Node& table = *project_.root.find("module")->find(name);
  const Node* place = table.find("place");
  return place == nullptr ? table.place : place->place;
}

const std::optional<Box>& Planner::envelope(const std::string& name) {
  Planned& module = *planned(name);
  if (!module.envelope) {
    std::optional<Box> box;
    if (vehicle_ && module.placeable) {
      box = place_module({.evaluator = evaluator_,
                          .vehicle = *vehicle_,
                          .catalogue = *catalogue_,
                          .module = name,
                          .kind = *module.kind,
                          .copy = module.copy,
                          .side_of = [&](const Relation& to) { return related_side(name, to); },
                          .report = [&](Finding f) { findings_.push_back(std::move(f)); }});
    }
    planned(name)->envelope = std::move(box);
  }
  return *planned(name)->envelope;
}

std::optional<double> Planner::related_side(const std::string& module, const Relation& relation) {
  const std::string& other = relation.other;
  if (auto finding = repeated(other)) {
    finding->place = relation.place;
    findings_.push_back(std::move(*finding));
    return std::nullopt;
  }
  const bool failed = has_failed(other);
  if (planned(other) == nullptr && !failed) {
    Finding finding = input_error("layout.unknown_module", relation.place);
    finding.subjects = {module};
    std::vector<std::string> known;
    if (relation.field == "on") known.emplace_back("floor");
    for (const auto& [name, ignored] : modules_) {
      if (name != module) known.push_back(name);
    }
    finding.with("field", relation.field).with("found", other);
    if (!known.empty()) finding.with("known", join(known, ", "));
    findings_.push_back(std::move(finding));
    return std::nullopt;
  }
  if (!failed && wanted(other) == false) {
    Finding finding = input_error("layout.relation_left_out", relation.place);
    finding.subjects = {module};
    finding.with("field", relation.field).with("found", other);
    findings_.push_back(std::move(finding));
    return std::nullopt;
  }
  const Lookup side = evaluator_.ask(other + "." + relation.side);
  if (side.state != Lookup::State::known) return std::nullopt;
  return side.quantity.value;
}

/// Tells the faults of copies once, and a misspelt size as that alone.
void Planner::finish_findings(Findings& all) const {
  const Findings told = all;
  std::erase_if(all, [&](const Finding& finding) { return is_misspelt_size(finding, told); });
  tell_once(all, repeats_.copies);
}

const std::optional<ModuleParts>& Planner::parts(const std::string& name) {
  Planned& module = *planned(name);
  if (!module.parts) {
    const auto record = evaluator_.record("module." + name);
    std::optional<ModuleParts> made;
    if (record && is_placed(name)) {
      const Box& box = **planned(name)->envelope;
      const std::string& faces = record->text("faces");
      const ModuleRequest request{.name = name,
                                  .fields = *record,
                                  .size = module_size(box, faces),
                                  .frame = module_frame(box, faces),
                                  .vehicle = *vehicle_,
                                  .catalogue = *catalogue_,
                                  .mirrored = record->flag("mirrored")};
      made = module.kind->generate(request);
      add_floor_angles(request, *made);
      tell_stock(made->findings, *module.kind->schema);
      apply_finishes(name, *record, *catalogue_, *made);
      judge_hung(*made);
      for (Findings* told : {&made->findings, &made->judged}) {
        for (Finding& finding : *told) {
          if (!finding.place) finding.place = record->place();
        }
      }
      findings_.insert(findings_.end(), made->findings.begin(), made->findings.end());
    }
    planned(name)->parts = std::move(made);
  }
  return *planned(name)->parts;
}

void Planner::add_module(const std::string& name, const Kind& kind, Layout& layout) {
  const std::string path = "module." + name;
  if (evaluator_.wanted(path) != true) {
    (void)evaluator_.record(path);  // its faults are told: it will be wanted some day
    return;
  }
  const auto& made = parts(name);
  if (!made) return;
  const Record record = *evaluator_.record(path);
  layout.modules.push_back({.name = name,
                            .kind = kind.name,
                            .title = record.text_or("title", name),
                            .envelope = **planned(name)->envelope,
                            .front = record.text("faces"),
                            .place = record.place()});
  const auto append = [](auto& to, const auto& from) {
    to.insert(to.end(), from.begin(), from.end());
  };
  append(layout.parts, made->parts);
  append(layout.joints, made->joints);
  append(layout.motions, made->motions);
  append(layout.zones, made->zones);
  append(layout.beds, made->beds);
  append(layout.supports, made->supports);
  append(layout.floor_bolts, made->floor_bolts);
  append(layout.removals, made->removals);
  append(layout.judged, made->judged);
  for (const auto& [gap_name, gap] : record.tables("gaps")) {
    if (auto finding = repeated(gap.text("to"))) {
      finding->place = gap.place("to");
      findings_.push_back(std::move(*finding));
    }
    layout.gaps.push_back({.id = name + "/gap." + gap_name,
                           .a = name,
                           .b = gap.text("to"),
                           .required = gap.number("at_least"),
                           .place = gap.place()});
  }
}

}  // namespace ribbay::detail
