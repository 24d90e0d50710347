#pragma once

#include "spec/document.hpp"
#include "spec/origin.hpp"
#include "spec/record.hpp"
#include "spec/schema.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ribbay {

/// What a name or a question outside the document answers.
struct Lookup {
  enum class State {
    known,         ///< `quantity` is the answer
    unknown_name,  ///< nobody has that name: the evaluator reports it and suggests the nearest
    left_out,  ///< it belongs to a table that is left out; `quantity` has the dimension it would
               ///< have
    failed     ///< it depends on something whose failure has been reported already, or on `finding`
  };
  State state = State::unknown_name;
  Quantity quantity;
  std::optional<Finding>
      finding;  ///< with `failed`: a new reason, without place (the evaluator adds it)

  static Lookup of(double value, Dimension dimension) {
    return {State::known, {value, dimension}, {}};
  }
  static Lookup left_out(Dimension dimension) { return {State::left_out, {0.0, dimension}, {}}; }
  static Lookup reported() { return {State::failed, {}, {}}; }
  static Lookup because(Finding why) { return {State::failed, {}, std::move(why)}; }
};

/// What the evaluator asks of those who know more than the document.
struct Resolvers {
  /// Dotted names that are no field of a declared table: "vehicle.floor_width", "rack.front".
  std::function<Lookup(std::string_view name)> name;
  /// Questions: `clear_width(45 mm, 605 mm, 0 mm, 900 mm)`.
  std::function<Lookup(std::string_view question, std::span<const Quantity> arguments)> question;
  /// All names and questions that the two above know, for suggestions.
  std::function<std::vector<std::string>()> known_names;
  std::function<std::vector<std::string>()> known_questions;
  /// Keys of the catalogue entries of a kind, for reference fields; nullopt: not checked.
  std::function<std::optional<std::vector<std::string>>(std::string_view kind)> catalogue;
};

/// Checks the tables of a document against schemas and computes their values. Fields are computed
/// on demand, once, so files may use each other's values in any order; a cycle is reported once
/// with its whole path, and whatever depends on a failed value is left out without a second report.
///
/// In an expression `self.x` is field x of the module the expression stands in; a name without a
/// dot is an entry of [values]; `NAME.x` is field x of the table declared as NAME, or else the
/// resolver's business, and so is a field that is not given and has no default. Fields inside
/// tables go on with dots
/// (`rack.place.gap`, `galley.columns.first.width`); a flag can stand where a condition is wanted.
/// A bare number in [values] is dimensionless, so `9` there is no length and `"9 mm"` is.
///
/// An entry of [options] is true, false or a condition, and stands for a condition under its own
/// name: `winter`, `options.winter`. A table whose schema has when_field() is left out while that
/// is not so: an entry of a keyed field is not in the record. Who names something in a table that
/// is left out gets "expression.left_out", but not in the part of an `if` that is not taken, and
/// not inside a table that is left out as well. A table left out by `when = false` may lack what it
/// needs: it is a pattern for others.
///
/// The document must outlive the evaluator. After kMostFindings reports it adds "input.more_errors"
/// and keeps quiet.
class Evaluator {
 public:
  static constexpr std::size_t kMostFindings = 500;

  Evaluator(const Document& document, Resolvers resolvers);
  ~Evaluator();
  Evaluator(const Evaluator&) = delete;
  Evaluator& operator=(const Evaluator&) = delete;

  /// Tells the ISO 4217 code of the currency that money is written in; any other currency is an
  /// error. Until it is told, the first one that is met is it. Call it before anything is computed.
  void use_currency(const std::string& code);

  /// Makes the fields of the table at `path` ("module.rack") computable, and known in expressions
  /// as `alias.field` when `alias` is not empty.
  void declare(const std::string& path, SchemaPtr schema, const std::string& alias = {});

  /// The whole table, checked and computed, or nullopt when anything in it failed (see findings()).
  /// Unknown and missing fields are reported here. A missing table counts as empty.
  std::optional<Record> record(const std::string& path);

  /// Whether a declared table counts: false when its `when` is false, or a condition that is not
  /// so. Nullopt when the condition failed, and was reported. What is left out gives no record(),
  /// which nevertheless reports its faults; call it for them.
  std::optional<bool> wanted(const std::string& path);

  /// One quantity field of a declared table, default included; nullopt when absent or failed.
  std::optional<double> number(const std::string& path, std::string_view field);
  /// One text-like field (text, choice, reference, path, date) of a declared table. Here and in
  /// record() a path is joined to the folder of the file that names it (a path from --set is left
  /// as it is).
  std::optional<std::string> text(const std::string& path, std::string_view field);
  /// One field of a list of texts; nullopt when absent or failed.
  std::optional<std::vector<std::string>> texts(const std::string& path, std::string_view field);
  /// One table field of a declared table; nullopt when absent or failed.
  std::optional<Record> table(const std::string& path, std::string_view field);
  /// True when the field is written in a file or has a default. A field may be dotted
  /// ("place.gap").
  bool has(const std::string& path, std::string_view field) const;

  /// Where the declared table stands, or, when it is missing, the nearest table around it.
  Place place(const std::string& path) const;

  /// Runs `compute` under `name`: computed once, and a request for `name` from inside it is a
  /// cycle. For names that resolvers compute from fields, such as "rack.front"; `place` is where
  /// the file asks for it to be computed.
  Lookup remember(const std::string& name, const Place& place,
                  const std::function<Lookup()>& compute);

  /// Asks the resolvers for a name on behalf of what is being computed, so that origin() knows that
  /// it was used. For resolvers that need each other's names.
  Lookup ask(std::string_view name);

  /// Tells origin() that what is being computed has used `value`, which the program found out by
  /// itself, such as "clear_width(40 mm, 600 mm, 0 mm, 900 mm)".
  void used(std::string_view question, std::span<const Quantity> arguments, const Quantity& value);

  /// Where the value of a field, an entry of [values] or a name of the resolvers comes from;
  /// `name` is a path ("module.rack.width", "values.lining") or a name as an expression would write
  /// it ("rack.width", "lining", "rack.front"); a table gives its written fields. Computes the
  /// value if nobody has yet. Nullopt, and a finding without place, when nobody knows the name or
  /// its value.
  std::optional<Origin> origin(const std::string& name);

  /// Computes every entry of [values] and [options], so that faults in those that nobody asks for
  /// are reported too. Call it after all tables are declared.
  void check_values();

  /// Reports top-level entries of the document that are not in `allowed`. Call it before anything
  /// is computed: what is missing because its table is misspelt is not reported then.
  void check_top_level(const std::vector<std::string>& allowed);
  /// True when check_top_level() has found `top`, such as "station", misspelt: what it should hold
  /// is missing for that reason.
  bool is_misspelt(std::string_view top) const;
  /// True when an entry named `key` stands in a table that check_top_level() has reported.
  bool in_unknown_table(std::string_view key) const;

  const Findings& findings() const;
  Findings take_findings();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace ribbay
