#pragma once

#include "expression.hpp"
#include "spec/evaluator.hpp"

#include <map>
#include <unordered_map>
#include <unordered_set>

namespace ribbay {

namespace detail {

/// A table made known by declare().
struct Declared {
  std::string path;
  std::string alias;
  SchemaPtr schema;
  const Entry* entry = nullptr;  ///< nullptr: not in the document
  Place place;                   ///< of the table, or of the nearest table around it

  const Node* node() const { return entry == nullptr ? nullptr : &entry->value; }
};

/// The condition of a named table that something stands in.
struct Guard {
  std::string table;             ///< "module.rack.columns.first"
  const Field* field = nullptr;  ///< its `when`
  const Node* when = nullptr;
  const Declared* home = nullptr;  ///< what `self` means in the condition
};
using Guards = std::vector<Guard>;  ///< outermost first

/// Whether what stands behind guards counts.
struct Standing {
  enum class Kind { kept, left_out, failed };  ///< failed: a condition failed and was reported
  Kind kind = Kind::kept;
  const Guard* by = nullptr;  ///< of what is left out: the outermost condition that is not so
};

/// One field of a table of the document.
struct Spot {
  std::string path;  ///< "module.rack.place.gap"
  const Field* field = nullptr;
  const Node* node = nullptr;      ///< nullptr: not written
  Place place;                     ///< of the value, or of the table where it could stand
  const Declared* home = nullptr;  ///< what `self` means in it; nullptr in [values]
  Guards guards;
};

/// One thing that a computed value was made from. Names are kept once, in State::used_names, so
/// that equal uses have equal pointers.
struct Use {
  enum class Kind {
    field,   ///< of a declared table: "module.rack.place.gap"
    table,   ///< a whole declared table: "module.rack"
    entry,   ///< of [values] or [options]: "values.lining"
    answer,  ///< of the program: "rack.front", "clear_width(40 mm, 600 mm, 0 mm, 900 mm)"
    step     ///< through remember(): what stands behind it is what was used
  };
  Kind kind = Kind::field;
  const std::string* name = nullptr;
  friend bool operator==(const Use&, const Use&) = default;
};
using Uses = std::vector<Use>;

/// A field that has been computed.
struct Computed {
  enum class Outcome { value, absent, failed };
  Outcome outcome = Outcome::failed;
  Record::Item item;
  Uses uses;

  static Computed failed() { return {}; }
  static Computed absent() { return {Outcome::absent, {}, {}}; }
  bool ok() const { return outcome == Outcome::value; }
};

/// An entry of [values] or [options] that has been computed.
struct ComputedEntry {
  const std::string* path = nullptr;
  bool started = false;
  bool done = false;
  Term term;
  Uses uses;
};

/// What a resolver, or the program by itself, has answered.
struct Answer {
  std::optional<Quantity> quantity;
  std::vector<Quantity> arguments;  ///< of a question
  Uses uses;
};

/// What remember() has computed.
struct Remembered {
  Lookup answer;
  Uses uses;
};

/// Where a value is wanted: who asks, and the kind of number (nullopt: any, as in [values]).
struct Wanted {
  const std::string& path;
  const Declared* home = nullptr;
  std::optional<Dimension> dimension;
  const Guards* guards = nullptr;  ///< of who asks
};

/// A word in an expression: as written, where, and whether its value matters (see Surroundings).
struct Word {
  std::string_view text;
  const Node& node;  ///< the text of the expression
  Span at;
  bool counts = true;

  Place place() const;
};

/// The condition of a table does not guard itself.
void drop_own_guard(Spot& spot);
/// A field that a name in an expression can stand for: a number or a flag.
bool has_term(const Field& field);
/// A table, named tables or a list of tables.
bool holds_tables(const Field& field);
/// "clear_width(40 mm, 600 mm, 0 mm, 900 mm)"
std::string question_text(std::string_view word, std::span<const Quantity> arguments);

}  // namespace detail

struct Evaluator::State {
  using Declared = detail::Declared;
  using Spot = detail::Spot;
  using Computed = detail::Computed;
  using Wanted = detail::Wanted;
  using Use = detail::Use;
  using Uses = detail::Uses;
  using Guards = detail::Guards;
  using Standing = detail::Standing;
  using Word = detail::Word;

  /// An entry of [values] or [options].
  struct TopEntry {
    std::string_view table;
    const Entry* entry = nullptr;
    std::string path() const { return std::string(table) + "." + entry->key; }
  };

  State(const Document& of, Resolvers with);

  // Who is known.
  const Document& document;
  Resolvers resolvers;
  std::map<std::string, Declared, std::less<>> declared;    ///< by path
  std::map<std::string, std::string, std::less<>> aliases;  ///< alias to path
  std::unordered_map<std::string_view, const Entry*> value_entries;
  std::unordered_map<std::string_view, const Entry*> option_entries;

  // What has been computed.
  std::map<std::string, Computed, std::less<>> fields;
  std::unordered_map<const Entry*, detail::ComputedEntry> computed_entries;
  std::map<std::string, std::optional<Record>, std::less<>> made_records;
  std::map<std::string, detail::Remembered, std::less<>> remembered;
  std::map<std::string, detail::Answer, std::less<>> answers;

  // What is being computed, outermost first.
  struct Link {
    const std::string* name = nullptr;
    const Place* place = nullptr;  ///< where it is written, or asked for; never null
    bool resolved = false;         ///< computed by a resolver, through remember()
  };
  std::vector<Link> chain;
  int depth = 0;
  std::string currency;  ///< that money is told in; empty until it is told or met
  std::vector<const Entry*> unknown_tables;  ///< reported by check_top_level()
  std::vector<std::string> misspelt;         ///< what they were probably meant to be
  bool told_depth = false;  ///< the chain is too long: its outer links need not say so again

  // What the values being computed have used so far, outermost first.
  std::vector<Uses> recording;
  std::unordered_set<std::string> used_names;

  Findings findings;

  // evaluator.cpp: names, order, cycles
  void report(Finding finding);
  bool enough() const { return findings.size() >= kMostFindings; }
  bool is_cycle(const Link& link);
  void enter(const Link& link);
  const Declared* find_declared(std::string_view path) const;
  std::optional<Spot> find_spot(const Declared& in, std::string_view field) const;
  std::optional<Spot> find_field(std::string_view name) const;
  const Computed& compute(const Spot& spot);
  std::optional<TopEntry> find_entry(std::string_view name) const;
  detail::Term compute_entry(const TopEntry& of);
  Lookup look_up(std::string_view name);
  Lookup look_up_beyond(const Spot& spot);
  detail::Term name(const Word& word, const Wanted& wanted);
  detail::Term question(const Word& word, std::span<const Quantity> arguments);
  detail::Term field_term(const Spot& spot, const Word& word, const Wanted& wanted);
  detail::Term outside(std::string_view name, const Word& word, const Wanted& wanted);
  detail::Term answered(Lookup answer, const Word& word);
  void unknown_name(std::string_view name, const Declared* home, std::optional<Place> place);
  void not_given(const Spot& spot, std::optional<Place> place);
  std::vector<std::string> known_names(const Declared* home) const;
  bool is_misspelt(std::string_view top) const;
  bool in_unknown_table(std::string_view key) const;

  // options.cpp: what is left out
  void add_guard(Guards& guards, const std::string& path, const Schema& schema, const Node* node,
                 const Declared* home) const;
  Guards guards_of(const Declared& table) const;
  Standing standing(const Guards& guards);
  bool is_left_out(const Guards& guards);
  bool is_pattern(const Guards& guards);
  detail::Term left_out_term(const detail::Guard* by, const Word& word, Dimension dimension,
                             bool flag);
  void left_out(const detail::Guard* by, std::string_view name, std::optional<Place> place);
  const detail::Guard* guard_of_name(std::string_view name, Guards& guards);
  void check_entries(std::string_view table);
  void check_clashes(std::string_view table);
  bool is_reserved(const std::string& path, const Entry& entry);

  // uses.cpp: what values are made from
  const std::string* kept_name(const std::string& name) { return &*used_names.insert(name).first; }
  void note(Use::Kind kind, const std::string* kept);
  void note(Use::Kind kind, const std::string& name);
  void start_recording() { recording.emplace_back(); }
  Uses stop_recording();
  void keep_answer(const std::string& name, std::span<const Quantity> arguments,
                   const Lookup& answer, Uses uses);
  Uses uses_of(const Use& use);
  Uses written_fields(const Spot& spot);
  void add_written_fields(const std::string& path, const Schema& schema, const Node& node,
                          Uses& found);
  std::optional<Origin> origin_of(const Use& use);
  Origin origin_of(const Spot& spot);
  std::string inherited_from(const std::string& path, const Node& node) const;
  std::optional<Use> named_use(const std::string& name);
  Origin origin_tree(const Use& root);

  // fields.cpp: what a field holds
  detail::Term term_of(const Node& node, const Wanted& wanted);
  std::optional<bool> condition(const Node& node, const Wanted& wanted,
                                const std::string& expected);
  Computed read_field(const Spot& spot);
  Computed read_node(const Spot& spot, const Node& node);
  std::optional<Quantity> number(const Node& node, const Wanted& wanted,
                                 const std::string& expected);
  bool value_without_unit(std::string_view name, Dimension expected, const Quantity& found);
  std::optional<double> quantity(const Spot& spot, const std::string& path, const Node& node);
  std::optional<double> count(const Spot& spot, const Node& node);
  std::optional<Size> size(const Spot& spot, const std::string& path, const Node& node);
  std::optional<std::string> words(const Spot& spot, const std::string& path, const Node& node);
  std::optional<std::string> date(const Spot& spot, const Node& node);
  bool check_limits(const Spot& spot, const std::string& path, const Place& place, double value);
  bool check_choice(const Spot& spot, const std::string& path, const Node& node);
  bool is_rejected(std::string_view kind, std::string_view key) const;
  bool check_length(const Spot& spot, const Place& place, std::size_t items);
  bool check_name(const std::string& path, const Entry& entry);
  template <class T, class ReadOne>
  Computed list_of(const Spot& spot, const Node& node, ReadOne read_one);
  Computed tables(const Spot& spot, const Node& node);
  std::optional<Record> read_table(const std::string& path, const Node* node, const Place& place,
                                   const Schema& schema, const Declared* home,
                                   const Guards& guards);
  void wrong_type(const std::string& path, const Node& node, const std::string& expected,
                  const std::string& example);
  void wrong_type(const Spot& spot, const std::string& path, const Node& node);
  std::string example_number(std::optional<Dimension> dimension) const;
  std::string example_value(const Field& field) const;
};

}  // namespace ribbay
