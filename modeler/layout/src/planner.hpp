#pragma once

#include "kind.hpp"
#include "layout/project.hpp"
#include "placement.hpp"
#include "repeat.hpp"

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// Laying out one project: declare_modules.cpp finds the modules, planner.cpp places them and makes
/// their parts, names.cpp answers the names that expressions use, questions.cpp the questions to
/// the van.
namespace ribbay::detail {

/// The schema of [project], and of [one_at_a_time.NAME].
SchemaPtr project_schema();
SchemaPtr one_at_a_time_schema();
/// What [project] says about the project as a whole; a name that cannot name a folder is reported.
void read_info(const Record& record, Layout& layout, Findings& findings);

/// Lays out one project: sizes, then envelopes, then parts, each when somebody first asks for it.
/// Without a vehicle (its file cannot be read) the fields of all tables are checked and nothing is
/// placed.
class Planner {
 public:
  Planner(const Document& project, std::shared_ptr<const Vehicle> vehicle,
          std::shared_ptr<const Catalogue> catalogue);

  Built<std::optional<Layout>> run();
  /// Where one value comes from; what is wrong elsewhere is not told.
  Built<std::optional<Origin>> explain(const std::string& name);
  std::optional<Origin> origin(const std::string& name);

 private:
  struct Planned {
    const Kind* kind = nullptr;
    int copy = 1;           ///< of a repeated module
    bool placeable = true;  ///< false: its repetition failed; its fields are checked
    std::optional<std::optional<Box>> envelope;  ///< outer: asked for already
    std::optional<std::optional<ModuleParts>> parts;
  };

  // declare_modules.cpp
  void declare_modules(const Document& written);
  bool is_declarable(const Document& written, const Node& modules, const Entry& entry);
  bool is_based_on_other_kind(const Document& written, const std::string& name);
  void unknown_kind(const Entry& entry, const Node* kind_node);
  Planned* planned(std::string_view name);
  /// A module whose fault has been told: nothing that names it is told.
  bool has_failed(const std::string& name) const;
  void check_tables();
  void read_stock_at_hand(Layout& layout);
  void read_prices(Layout& layout);
  std::vector<std::pair<std::string, Record>> named_records(const std::string& table,
                                                            const SchemaPtr& schema);

  // explain_value.cpp
  void declare_catalogue(const std::string& name);
  Findings faults_of_settings();

  // What expressions may ask.
  Resolvers resolvers();
  std::vector<std::string> names() const;
  Lookup look_up(std::string_view name);
  Lookup vehicle_fact(std::string_view name) const;
  Lookup stock_fact(const std::vector<std::string>& words);
  Lookup copy_index(const std::string& name, const Planned& module) const;
  Lookup module_word(const std::string& module, const std::string& word);
  Lookup port_side(const std::string& module, const std::string& port, std::string_view side);
  double envelope_number(const Box& box, const std::string& module, std::string_view word);

  // Placing and making modules.
  bool is_placed(const std::string& name);
  const Place& placing(const std::string& name) const;
  const std::optional<Box>& envelope(const std::string& name);
  std::optional<double> related_side(const std::string& module, const Relation& relation);
  std::optional<Finding> repeated(const std::string& name) const;
  /// False for a module that its `when` leaves out; nullopt when that failed and was reported.
  std::optional<bool> wanted(const std::string& name);
  const std::optional<ModuleParts>& parts(const std::string& name);
  void add_module(const std::string& name, const Kind& kind, Layout& layout);

  bool is_gap_target(const std::string& to, const Layout& layout);
  void check_gap_targets(const Layout& layout);
  void check_hosts(const Layout& layout);
  void read_one_at_a_time(Layout& layout);
  void finish_findings(Findings& all) const;

  Repeats repeats_;
  const Document& project_;                 ///< with its repetitions written out
  std::shared_ptr<const Vehicle> vehicle_;  ///< null: it could not be read
  std::shared_ptr<const Catalogue> catalogue_;
  std::vector<std::pair<std::string, Quantity>> facts_;  ///< of the vehicle, sorted by name
  std::vector<std::pair<std::string, Planned>> modules_;
  std::vector<std::string> failed_modules_;  ///< of no known kind: reported already
  Findings findings_;
  Evaluator evaluator_;
};

}  // namespace ribbay::detail
