#pragma once

#include "expression.hpp"
#include "spec/evaluator.hpp"

#include <map>
#include <unordered_map>

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

/// One field of a table of the document.
struct Spot {
  std::string path;  ///< "module.rack.place.gap"
  const Field* field = nullptr;
  const Node* node = nullptr;      ///< nullptr: not written
  Place place;                     ///< of the value, or of the table where it could stand
  const Declared* home = nullptr;  ///< what `self` means in it; nullptr in [values]
};

/// A field that has been computed.
struct Computed {
  enum class Outcome { value, absent, failed };
  Outcome outcome = Outcome::failed;
  Record::Item item;

  static Computed failed() { return {}; }
  static Computed absent() { return {Outcome::absent, {}}; }
  bool ok() const { return outcome == Outcome::value; }
};

/// Where a number is wanted: who asks, and the kind of number (nullopt: any, as in [values]).
struct Wanted {
  const std::string& path;
  const Declared* home = nullptr;
  std::optional<Dimension> dimension;
};

}  // namespace detail

struct Evaluator::State {
  using Declared = detail::Declared;
  using Spot = detail::Spot;
  using Computed = detail::Computed;
  using Wanted = detail::Wanted;

  State(const Document& of, Resolvers with);

  // Who is known.
  const Document& document;
  Resolvers resolvers;
  std::map<std::string, Declared, std::less<>> declared;    ///< by path
  std::map<std::string, std::string, std::less<>> aliases;  ///< alias to path
  std::unordered_map<std::string_view, const Entry*> value_entries;

  // What has been computed.
  std::map<std::string, Computed, std::less<>> fields;
  std::map<std::string, std::optional<Quantity>, std::less<>> computed_values;
  std::map<std::string, std::optional<Record>, std::less<>> made_records;
  std::map<std::string, Lookup, std::less<>> remembered;

  // What is being computed, outermost first.
  struct Link {
    std::string name;
    Place place;
    bool resolved = false;  ///< computed by a resolver, through remember()
  };
  std::vector<Link> chain;
  int depth = 0;
  std::string currency;  ///< that money is told in; empty until it is told or met
  bool told_depth = false;  ///< the chain is too long: its outer links need not say so again

  Findings findings;

  // evaluator.cpp: names, order, cycles
  void report(Finding finding);
  bool enough() const { return findings.size() >= kMostFindings; }
  bool is_cycle(const Link& link);
  void enter(Link link);
  const Declared* find_declared(std::string_view path) const;
  std::optional<Spot> find_spot(const Declared& in, std::string_view field) const;
  const Computed& compute(const Spot& spot);
  std::optional<Quantity> compute_value(std::string_view name);
  Lookup look_up(std::string_view name) const;
  Lookup look_up_beyond(const Spot& spot) const;
  detail::Term name(std::string_view name, const Wanted& wanted, const Place& place);
  detail::Term question(std::string_view word, std::span<const Quantity> arguments,
                        const Place& place);
  detail::Term field_term(const Spot& spot, std::string_view name, const Place& place);
  detail::Term outside(std::string_view name, std::string_view as_written, const Wanted& wanted,
                       const Place& place);
  detail::Term answered(Lookup answer, const Place& place);
  std::vector<std::string> known_names(const Declared* home) const;

  // fields.cpp: what a field holds
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
  bool check_length(const Spot& spot, const Place& place, std::size_t items);
  bool check_name(const std::string& path, const Entry& entry);
  template <class T, class ReadOne>
  Computed list_of(const Spot& spot, const Node& node, ReadOne read_one);
  Computed tables(const Spot& spot, const Node& node);
  std::optional<Record> read_table(const std::string& path, const Node* node, const Place& place,
                                   const Schema& schema, const Declared* home);
  void wrong_type(const std::string& path, const Node& node, const std::string& expected);
};

}  // namespace ribbay
