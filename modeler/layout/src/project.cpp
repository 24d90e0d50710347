#include "layout/project.hpp"

#include "kind.hpp"
#include "placement.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <map>
#include <set>

namespace ribbay {

using namespace detail;

namespace {

SchemaPtr project_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "project",
      "what the project is, and which van it is for",
      {text_field("name").needed().means("name of the output folder: small letters, digits and _"),
       text_field("title").means("what drawings and reports call the project; by default its name"),
       FieldMaker("date", FieldKind::date).means("date of issue on drawings and in files"),
       text_field("author").means("who made it; printed in the title block"),
       choice_field("show", {"mm", "in"})
           .otherwise("mm")
           .means("unit that drawings and lists print"),
       choice_field("projection", {"first angle", "third angle"})
           .otherwise("first angle")
           .means("how the views of a drawing are arranged"),
       length_field("tight").otherwise("1 mm").at_least(0).means(
           "gaps between modules, and between a module and the van, below this are reported"),
       FieldMaker("vehicle", FieldKind::path).needed().means("the vehicle file")}});
  return schema;
}

constexpr std::array<const char*, 6> kSides = {"rear", "front", "right", "left", "bottom", "top"};

std::optional<double> side_of(const Box& box, std::string_view side) {
  if (side == "rear") return box.lo.x;
  if (side == "front") return box.hi.x;
  if (side == "right") return box.lo.y;
  if (side == "left") return box.hi.y;
  if (side == "bottom") return box.lo.z;
  if (side == "top") return box.hi.z;
  return std::nullopt;
}

/// Lays out one project: sizes, then envelopes, then parts, each when somebody first asks for it.
class Planner {
 public:
  Planner(const Document& project, std::shared_ptr<const Vehicle> vehicle,
          std::shared_ptr<const Catalogue> catalogue)
      : vehicle_{std::move(vehicle)},
        catalogue_{std::move(catalogue)},
        evaluator_{project, resolvers()} {
    evaluator_.declare("project", project_schema());
    if (const Node* modules = project.root.find("module")) declare_modules(*modules);
  }

  Built<std::optional<Layout>> run() {
    std::vector<std::string> tables = {"format", "include", "project",
                                       "values", "options", "module"};
    for (const auto& [name, schema] : catalogue_schemas()) tables.push_back(name);
    evaluator_.check_top_level(tables);
    evaluator_.check_values();
    Layout layout;
    layout.vehicle = vehicle_;
    layout.catalogue = catalogue_;
    if (const auto record = evaluator_.record("project")) read_info(*record, layout);
    for (const auto& [name, module] : modules_) add_module(name, *module.kind, layout);
    sort_layout(layout);
    Findings all = evaluator_.take_findings();
    all.insert(all.end(), findings_.begin(), findings_.end());
    return {std::move(layout), std::move(all)};
  }

  /// Where a value comes from; what else is wrong with the project is no answer.
  Built<std::optional<Origin>> explain(const std::string& name) {
    auto origin = evaluator_.origin(name);
    Findings all = evaluator_.take_findings();
    all.insert(all.end(), findings_.begin(), findings_.end());
    return {std::move(origin), std::move(all)};
  }

 private:
  struct Planned {
    const Kind* kind = nullptr;
    std::optional<std::optional<Box>> envelope;  ///< outer: asked for already
    std::optional<std::optional<ModuleParts>> parts;
  };

  void declare_modules(const Node& modules) {
    if (modules.table() == nullptr) return report_not_a_table(modules);
    for (const Entry& entry : *modules.table()) {
      const Node* kind_node = entry.value.find("kind");
      const std::string* kind_name = kind_node ? kind_node->text() : nullptr;
      const auto kind = std::ranges::find(kinds(), kind_name ? *kind_name : "", &Kind::name);
      if (kind == kinds().end()) {
        unknown_kind(entry, kind_node);
        continue;
      }
      evaluator_.declare("module." + entry.key, kind->schema, entry.key);
      modules_.emplace_back(entry.key, Planned{&*kind, {}, {}});
    }
  }

  void report_not_a_table(const Node& modules) {
    Finding finding = input_error("layout.modules_not_a_table", modules.place);
    findings_.push_back(std::move(finding.with("found", std::string(modules.kind_name()))));
  }

  void unknown_kind(const Entry& entry, const Node* kind_node) {
    std::vector<std::string> names;
    for (const Kind& kind : kinds()) names.push_back(kind.name);
    Finding finding = input_error(kind_node ? "layout.unknown_kind" : "layout.no_kind",
                                  kind_node ? kind_node->place : entry.key_place);
    finding.subjects = {entry.key};
    finding.with("known", join(names, ", "));
    if (kind_node && kind_node->text()) {
      finding.with("found", *kind_node->text());
      const std::string guess = nearest(*kind_node->text(), names);
      if (!guess.empty()) finding.with("nearest", guess);
    }
    findings_.push_back(std::move(finding));
  }

  Planned* planned(std::string_view name) {
    const auto found = std::ranges::find(modules_, name, [](const auto& m) { return m.first; });
    return found == modules_.end() ? nullptr : &found->second;
  }

  // -- what expressions may ask
  // ------------------------------------------------------------------------

  Resolvers resolvers() {
    return {.name = [this](std::string_view name) { return look_up(name); },
            .question = [this](std::string_view q,
                               std::span<const Quantity> a) { return answer(q, a); },
            .known_names = [this] { return names(); },
            .known_questions = [] { return questions(); },
            .catalogue = [this](std::string_view kind) { return catalogue_->keys(kind); }};
  }

  std::vector<std::string> names() const {
    std::vector<std::string> all = {"vehicle.rear_sill", "vehicle.rear", "vehicle.front",
                                    "vehicle.floor_thickness"};
    for (const auto& [name, planned] : modules_) {
      for (const char* side : kSides) all.push_back(name + "." + side);
    }
    return all;
  }

  static std::vector<std::string> questions() {
    return {"clear_width", "clear_left", "clear_right",  "clear_height",
            "wall_left",   "wall_right", "nearest_joist"};
  }

  Lookup look_up(std::string_view name) {
    const std::vector<std::string> words = split(name);
    if (words.size() == 2 && words[0] == "vehicle") {
      if (words[1] == "rear_sill") return Lookup::of(vehicle_->rear_sill, dimension::length);
      if (words[1] == "rear") return Lookup::of(vehicle_->x_min(), dimension::length);
      if (words[1] == "front") return Lookup::of(vehicle_->x_max(), dimension::length);
      if (words[1] == "floor_thickness")
        return Lookup::of(vehicle_->floor_thickness, dimension::length);
      return {};
    }
    Planned* module = planned(words[0]);
    if (module == nullptr || words.size() < 2 || words.size() > 3) return {};
    if (words.size() == 2) {
      if (std::ranges::find(kSides, words[1]) == kSides.end() && !is_size(words[1])) return {};
      return is_placed(words[0])
                 ? Lookup::of(envelope_number(*envelope(words[0]), words[0], words[1]),
                              dimension::length)
                 : Lookup::reported();
    }
    const Lookup made = evaluator_.remember(words[0] + " (its parts)", [&] {
      return parts(words[0]) ? Lookup::of(0, {}) : Lookup::reported();
    });
    if (made.state != Lookup::State::known) return Lookup::reported();
    const auto& ports = parts(words[0])->ports;
    const auto port = ports.find(words[1]);
    if (port == ports.end()) return unknown_port(words[0], words[1], ports);
    const auto value = side_of(port->second, words[2]);
    return value ? Lookup::of(*value, dimension::length) : Lookup{};
  }

  static bool is_size(std::string_view word) {
    return word == "width" || word == "depth" || word == "height";
  }

  double envelope_number(const Box& box, const std::string& module, std::string_view word) {
    if (const auto value = side_of(box, word)) return *value;
    const Vec3 size = module_size(box, *evaluator_.text("module." + module, "faces"));
    return word == "width" ? size.x : word == "depth" ? size.y : size.z;
  }

  static Lookup unknown_port(const std::string& module, const std::string& port,
                             const std::map<std::string, Box>& ports) {
    std::vector<std::string> known;
    for (const auto& [name, box] : ports) known.push_back(name);
    Finding finding;
    finding.code = "layout.unknown_port";
    finding.subjects = {module};
    finding.with("found", port).with("known", known.empty() ? "none" : join(known, ", "));
    return Lookup::because(std::move(finding));
  }

  Lookup answer(std::string_view question, std::span<const Quantity> a) {
    const std::vector<std::string> known = questions();
    if (std::ranges::find(known, question) == known.end()) return {};
    const std::size_t wanted = question == "wall_left" || question == "wall_right" ? 2
                               : question == "nearest_joist"                       ? 1
                                                                                   : 4;
    const bool lengths =
        std::ranges::all_of(a, [](const Quantity& q) { return q.dimension == dimension::length; });
    if (a.size() != wanted || !lengths) {
      Finding finding;
      finding.code = "layout.wrong_arguments";
      finding.with("question", std::string(question))
          .with("required", static_cast<double>(wanted), Unit::count)
          .with("measured", static_cast<double>(a.size()), Unit::count);
      return Lookup::because(std::move(finding));
    }
    std::optional<double> value;
    if (question == "wall_left") value = wall_y(*vehicle_, VanSide::left, a[0].value, a[1].value);
    if (question == "wall_right") value = wall_y(*vehicle_, VanSide::right, a[0].value, a[1].value);
    if (question == "clear_height") {
      value = clear_height(*vehicle_, a[0].value, a[1].value, a[2].value, a[3].value);
    }
    if (question == "nearest_joist") {
      if (const Joist* joist = nearest_joist(*vehicle_, {a[0].value, 0})) value = joist->at;
    }
    if (question.starts_with("clear_") && question != "clear_height") {
      if (const auto clear =
              clear_width(*vehicle_, a[0].value, a[1].value, a[2].value, a[3].value)) {
        value = question == "clear_width"  ? clear->width()
                : question == "clear_left" ? clear->left
                                           : clear->right;
      }
    }
    if (!value) {
      Finding finding;
      finding.code = "layout.no_answer";
      finding.with("question", std::string(question))
          .with("rear", vehicle_->x_min(), Unit::mm)
          .with("front", vehicle_->x_max(), Unit::mm);
      return Lookup::because(std::move(finding));
    }
    return Lookup::of(*value, dimension::length);
  }

  // -- modules
  // -------------------------------------------------------------------------------------------

  /// Computes the envelope when it is first needed; needing it while it is computed is a cycle.
  bool is_placed(const std::string& name) {
    const auto compute = [&] { return envelope(name) ? Lookup::of(0, {}) : Lookup::reported(); };
    return evaluator_.remember(name + " (its place)", compute).state == Lookup::State::known;
  }

  const std::optional<Box>& envelope(const std::string& name) {
    Planned& module = *planned(name);
    if (!module.envelope) {
      auto box =
          place_module({.evaluator = evaluator_,
                        .vehicle = *vehicle_,
                        .catalogue = *catalogue_,
                        .module = name,
                        .kind = *module.kind,
                        .top_of = [&](const std::string& other) { return top_of(name, other); },
                        .report = [&](Finding f) { findings_.push_back(std::move(f)); }});
      planned(name)->envelope = std::move(box);
    }
    return *planned(name)->envelope;
  }

  std::optional<double> top_of(const std::string& module, const std::string& other) {
    if (planned(other) == nullptr) {
      Finding finding = input_error("layout.unknown_module", evaluator_.place("module." + module));
      finding.subjects = {module};
      std::vector<std::string> known{"floor"};
      for (const auto& [name, ignored] : modules_) known.push_back(name);
      finding.with("found", other).with("known", join(known, ", "));
      findings_.push_back(std::move(finding));
      return std::nullopt;
    }
    const Lookup top = look_up(other + ".top");
    if (top.state != Lookup::State::known) return std::nullopt;
    return top.quantity.value;
  }

  const std::optional<ModuleParts>& parts(const std::string& name) {
    Planned& module = *planned(name);
    if (!module.parts) {
      const std::string path = "module." + name;
      const auto record = evaluator_.record(path);
      std::optional<ModuleParts> made;
      if (record && is_placed(name)) {
        const Box& box = **planned(name)->envelope;
        const std::string& faces = record->text("faces");
        made = module.kind->generate({.name = name,
                                      .fields = *record,
                                      .size = module_size(box, faces),
                                      .frame = module_frame(box, faces),
                                      .vehicle = *vehicle_,
                                      .catalogue = *catalogue_});
        for (Finding& finding : made->findings) {
          if (!finding.place) finding.place = record->place();
          findings_.push_back(finding);
        }
      }
      planned(name)->parts = std::move(made);
    }
    return *planned(name)->parts;
  }

  void add_module(const std::string& name, const Kind& kind, Layout& layout) {
    const auto& made = parts(name);
    if (!made) return;
    const Record record = *evaluator_.record("module." + name);
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
    append(layout.supports, made->supports);
    append(layout.floor_bolts, made->floor_bolts);
    for (const auto& [gap_name, gap] : record.tables("gaps")) {
      layout.gaps.push_back({.id = name + "/gap." + gap_name,
                             .a = name,
                             .b = gap.text("to"),
                             .required = gap.number("at_least"),
                             .place = gap.place()});
    }
  }

  void read_info(const Record& record, Layout& layout) {
    const std::string& name = record.text("name");
    const bool usable = !name.empty() && std::ranges::all_of(name, [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
    });
    if (!usable) {
      findings_.push_back(
          input_error("layout.project_name", record.place("name")).with("found", name));
    }
    layout.project = {
        .name = name,
        .title = record.text_or("title", name),
        .date = record.text_or("date", ""),
        .author = record.text_or("author", ""),
        .show = record.text("show") == "in" ? LengthStyle::inches : LengthStyle::millimetres,
        .first_angle = record.text("projection") == "first angle"};
    layout.tight = record.number("tight");
  }

  static void sort_layout(Layout& layout) {
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
    share_shapes(layout.parts);
  }

  /// Equal parts point to one shape, so that everything after this works once per distinct shape.
  static void share_shapes(std::vector<Part>& parts) {
    std::map<std::string, ShapePtr> known;
    for (Part& part : parts) part.shape = known.emplace(key(*part.shape), part.shape).first->second;
  }

  std::shared_ptr<const Vehicle> vehicle_;
  std::shared_ptr<const Catalogue> catalogue_;
  std::vector<std::pair<std::string, Planned>> modules_;
  Findings findings_;
  Evaluator evaluator_;
};

}  // namespace

Built<std::optional<Inputs>> read_inputs(const std::string& path,
                                         const std::vector<std::string>& overrides,
                                         const ReadFile& read) {
  Findings findings;
  Inputs inputs;
  inputs.project = take(load_document(path, overrides, read), findings);
  if (has_errors(findings)) return {std::nullopt, std::move(findings)};
  // The vehicle's path is needed before anything else can be computed; it is plain text, never an
  // expression.
  Evaluator evaluator(inputs.project, {});
  evaluator.declare("project", project_schema());
  const auto vehicle = evaluator.text("project", "vehicle");
  if (!vehicle) {
    (void)evaluator.record("project");  // says what is missing or wrong
    Findings more = evaluator.take_findings();
    findings.insert(findings.end(), more.begin(), more.end());
    return {std::nullopt, std::move(findings)};
  }
  inputs.vehicle_name = std::filesystem::path(*vehicle).stem().string();
  inputs.vehicle = take(load_document(*vehicle, {}, read), findings);
  // A vehicle file that cannot be opened is a fault of the line that names it.
  const Node* named = inputs.project.root.find("project")->find("vehicle");
  for (Finding& finding : findings) {
    if (finding.place && finding.place->line == 0) finding.place = named->place;
  }
  if (has_errors(findings)) return {std::nullopt, std::move(findings)};
  return {std::move(inputs), std::move(findings)};
}

Built<std::optional<Layout>> lay_out(const Inputs& inputs) {
  Findings findings;
  auto catalogue =
      std::make_shared<const Catalogue>(take(read_catalogue(inputs.project), findings));
  auto vehicle = read_vehicle(inputs.vehicle);
  if (!vehicle) {
    findings.insert(findings.end(), vehicle.error().begin(), vehicle.error().end());
    return {std::nullopt, std::move(findings)};
  }
  vehicle->key = inputs.vehicle_name;
  auto planned = Planner(inputs.project, std::make_shared<const Vehicle>(std::move(*vehicle)),
                         std::move(catalogue))
                     .run();
  findings.insert(findings.end(), planned.findings.begin(), planned.findings.end());
  return {std::move(planned.value), std::move(findings)};
}

Built<std::optional<Origin>> explain_value(const Inputs& inputs, const std::string& name) {
  auto vehicle = read_vehicle(inputs.vehicle);
  if (!vehicle) return {std::nullopt, std::move(vehicle.error())};
  vehicle->key = inputs.vehicle_name;
  // Faults of the catalogue are those of things that this value may have nothing to do with.
  auto catalogue = std::make_shared<const Catalogue>(read_catalogue(inputs.project).value);
  return Planner(inputs.project, std::make_shared<const Vehicle>(std::move(*vehicle)),
                 std::move(catalogue))
      .explain(name);
}

std::vector<NamedSchema> project_schemas() {
  std::vector<NamedSchema> all = {{"project", "[project]", project_schema(), "project"}};
  for (const Kind& kind : kinds()) {
    all.push_back({kind.name, "[module.NAME] with kind = \"" + kind.name + "\"", kind.schema,
                   "module", true});
  }
  for (const auto& [name, schema] : catalogue_schemas())
    all.push_back({name, "[" + name + ".NAME]", schema, name, true});
  for (const auto& [name, schema] : vehicle_schemas()) {
    const bool many = !stands_once(name);
    all.push_back({name, "[" + name + (many ? ".NAME]" : "]") + " in a vehicle file", schema, name,
                   many, true});
  }
  return all;
}

std::vector<VanQuestion> van_questions() {
  return {
      {"clear_width(x from, x to, z from, z to)",
       "Least free width between both walls, ribs and arches taken off, along a stretch of the van "
       "over a range of heights."},
      {"clear_left(x from, x to, z from, z to)", "y of what limits that width on the left."},
      {"clear_right(x from, x to, z from, z to)", "y of what limits that width on the right."},
      {"clear_height(x from, x to, y from, y to)",
       "Least free height above the floor over a piece of the floor."},
      {"wall_left(x, z)", "y of the left wall's surface at a point."},
      {"wall_right(x, z)", "y of the right wall's surface at a point."},
      {"nearest_joist(x)", "x of the middle of the nearest joist across the van."},
  };
}

}  // namespace ribbay
