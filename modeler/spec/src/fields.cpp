#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "evaluator_state.hpp"
#include "spec/names.hpp"
#include "toml_text.hpp"
#include "units.hpp"
#include "words.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace ribbay {

using namespace detail;

namespace {

constexpr double kMostCount = 1e6;  // of anything: a van holds less
constexpr double kFarthest = 1e5;   // mm, of any size or place: no van is near as long

/// The part of a value that is at fault.
Place inside(const Node& node, Span at) {
  Place place = place_inside(node, at.offset);
  place.text = shown(node.place.text);
  return place;
}

void put_places(Node& node, const Place& place) {
  node.place = place;
  if (auto* items = std::get_if<Node::Array>(&node.value)) {
    for (Node& item : *items) put_places(item, place);
  } else if (auto* entries = std::get_if<Node::Table>(&node.value)) {
    for (Entry& entry : *entries) {
      entry.key_place = place;
      put_places(entry.value, place);
    }
  }
}

/// The default of a field as if it stood in the file, with the place of its table.
Node default_node(const Field& field, Place place) {
  place.text.clear();
  const bool verbatim = field.kind == FieldKind::text || field.kind == FieldKind::choice ||
                        field.kind == FieldKind::reference || field.kind == FieldKind::path;
  Node node;
  if (verbatim && !field.fallback.starts_with('"')) {
    node.value = field.fallback;
  } else {
    node = read_value(field.fallback, place);
  }
  put_places(node, place);
  return node;
}

/// The text before "share" or "shares", or nullopt for other texts.
std::optional<std::string_view> before_share(std::string_view text) {
  while (text.ends_with(' ')) text.remove_suffix(1);
  for (const std::string_view word : {"shares", "share"}) {
    if (!text.ends_with(word)) continue;
    text.remove_suffix(word.size());
    const bool whole_word =
        text.empty() || text.back() == ' ' || (text.back() >= '0' && text.back() <= '9');
    return whole_word ? std::optional(text) : std::nullopt;
  }
  return std::nullopt;
}

/// What a text means that stands where true or false should: "yes", "Off".
std::optional<bool> flag_word(const std::string* text) {
  if (text == nullptr) return std::nullopt;
  std::string word = *text;
  std::ranges::transform(word, word.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  if (word == "yes" || word == "on" || word == "true") return true;
  if (word == "no" || word == "off" || word == "false") return false;
  return std::nullopt;
}

bool is_date(std::string_view text) {
  return text.size() == 10 && text[4] == '-' && text[7] == '-';
}

}  // namespace

Place detail::Word::place() const {
  return inside(node, at);
}

void Evaluator::State::wrong_type(const std::string& path, const Node& node,
                                  const std::string& expected, const std::string& example) {
  Finding finding = input_error("input.wrong_type", node.place);
  finding.place->text = shown(finding.place->text);
  finding.subjects = {path};
  finding.with("found", std::string(node.kind_name())).with("expected", expected);
  report(std::move(finding).with("example", example));
}

void Evaluator::State::wrong_type(const Spot& spot, const std::string& path, const Node& node) {
  wrong_type(path, node, describe(*spot.field), example_value(*spot.field));
}

/// A number as it could be written; of no kind: any.
std::string Evaluator::State::example_number(std::optional<Dimension> dimension) const {
  if (dimension == dimension::none) return "2";
  const auto unit = unit_to_write(dimension.value_or(dimension::length), currency);
  return unit ? "\"40 " + *unit + "\"" : "40";
}

/// What could be written in a field.
std::string Evaluator::State::example_value(const Field& field) const {
  const std::string number = example_number(field.dimension);
  switch (field.kind) {
    case FieldKind::quantity:
    case FieldKind::count:
      return number;
    case FieldKind::flag:
      return "true";
    case FieldKind::text:
      return "\"some words\"";
    case FieldKind::choice:
      return "\"" + field.choices.front() + "\"";
    case FieldKind::reference:
      return "\"name\"";
    case FieldKind::path:
      return "\"file.toml\"";
    case FieldKind::date:
      return "2026-11-24";
    case FieldKind::quantities:
    case FieldKind::sizes:
      return "[" + number + ", " + number + "]";
    case FieldKind::vector:
      return "[" + number + ", " + number + (field.least > 2 ? ", " + number + "]" : "]");
    case FieldKind::texts:
      return "[\"" + (field.choices.empty() ? "some words" : field.choices.front()) + "\"]";
    case FieldKind::table:
      return "{ " + field.inner->fields.front().name + " = ... }";
    case FieldKind::keyed:
      return "{ name = { " + field.inner->fields.front().name + " = ... } }";
    case FieldKind::list:
      return "[{ " + field.inner->fields.front().name + " = ... }]";
  }
  return {};
}

// Numbers ---------------------------------------------------------------------------------------

/// What the expression in a text yields.
Term Evaluator::State::term_of(const Node& node, const Wanted& wanted) {
  // One reference for all, so that the functions need no memory of their own.
  struct Asker {
    State& state;
    const Node& node;
    const Wanted& wanted;
  };
  const Asker by{*this, node, wanted};
  Surroundings around;
  around.depth = &depth;
  around.currency = &currency;
  around.report = [&by](Finding finding, Span at) {
    finding.place = inside(by.node, at);
    by.state.report(std::move(finding));
  };
  around.name = [&by](std::string_view word, Span at, bool counts) {
    return by.state.name({word, by.node, at, counts}, by.wanted);
  };
  around.question = [&by](std::string_view word, std::span<const Quantity> arguments, Span at) {
    return by.state.question({word, by.node, at}, arguments);
  };
  return evaluate(*node.text(), around);
}

std::optional<bool> Evaluator::State::condition(const Node& node, const Wanted& wanted,
                                                const std::string& expected) {
  if (const auto* flag = std::get_if<bool>(&node.value)) return *flag;
  const auto meant = flag_word(node.text());
  if (node.text() == nullptr || (meant && !find_entry(*node.text()))) {
    wrong_type(wanted.path, node, expected, meant.value_or(true) ? "true" : "false");
    return std::nullopt;
  }
  const Term result = term_of(node, wanted);
  if (result.failed()) return std::nullopt;
  if (result.kind == Term::Kind::condition) return result.truth;
  report(input_error("expression.condition_needed", inside(node, {})).with("part", *node.text()));
  return std::nullopt;
}

std::optional<Quantity> Evaluator::State::number(const Node& node, const Wanted& wanted,
                                                 const std::string& expected) {
  const Dimension bare = wanted.dimension.value_or(dimension::none);
  std::optional<double> plain;
  if (const auto* whole = std::get_if<std::int64_t>(&node.value))
    plain = static_cast<double>(*whole);
  if (const auto* real = std::get_if<double>(&node.value)) plain = *real;
  if (node.text() != nullptr) plain = plain_number(*node.text());
  if (plain) {
    if (std::isfinite(*plain)) return Quantity{from_bare(*plain, bare), bare};
    Finding finding = input_error("input.not_finite", node.place);
    finding.subjects = {wanted.path};
    report(std::move(finding));
    return std::nullopt;
  }
  if (node.text() == nullptr) {
    wrong_type(wanted.path, node, expected, example_number(wanted.dimension));
    return std::nullopt;
  }

  const Term result = term_of(node, wanted);
  if (result.failed()) return std::nullopt;
  if (result.kind == Term::Kind::condition) {
    report(input_error("expression.number_needed", inside(node, {})).with("part", *node.text()));
    return std::nullopt;
  }
  if (wanted.dimension && result.quantity.dimension != *wanted.dimension) {
    if (value_without_unit(*node.text(), *wanted.dimension, result.quantity)) return std::nullopt;
    Finding finding = input_error("expression.dimension", inside(node, {}));
    finding.subjects = {wanted.path};
    finding.with("found", dimension_name(result.quantity.dimension))
        .with("expected", dimension_name(*wanted.dimension));
    finding.with("example", example_number(wanted.dimension));
    report(std::move(finding));
    return std::nullopt;
  }
  return result.quantity;
}

/// A field that is nothing but the name of a value: when that value only lacks its unit, the fault
/// lies there, and is told once for all fields that use it.
bool Evaluator::State::value_without_unit(std::string_view name, Dimension expected,
                                          const Quantity& found) {
  const auto entry = value_entries.find(name);
  if (entry == value_entries.end() || found.dimension != dimension::none) return false;
  const Node& node = entry->second->value;
  if (node.text() != nullptr && !plain_number(*node.text())) return false;
  Finding finding = input_error("expression.value_without_unit", node.place);
  finding.subjects = {"values." + std::string(name)};
  finding.with("key", std::string(name)).with("expected", dimension_name(expected));
  if (const auto unit = unit_to_write(expected, currency)) {
    finding.with("mended", number_text(found.value) + " " + *unit);
  }
  report(std::move(finding));
  return true;
}

bool Evaluator::State::check_limits(const Spot& spot, const std::string& path, const Place& place,
                                    double value) {
  const Field& field = *spot.field;
  // A result that misses its limit by rounding alone has not missed it.
  const double rounding = field.dimension == dimension::length ? kSame : 1e-12 * std::abs(value);
  const auto missed = [&](std::string code, double limit) {
    Finding finding = input_error(std::move(code), place);
    finding.place->text = shown(place.text);
    finding.subjects = {path};
    if (field.kind == FieldKind::count) {
      finding.with("value", value, Unit::count).with("limit", limit, Unit::count);
    } else {
      add_quantity(finding, "value", value, field.dimension, currency);
      add_quantity(finding, "limit", limit, field.dimension, currency);
    }
    report(std::move(finding));
    return false;
  };
  if (field.above && value <= *field.above) return missed("input.not_above", *field.above);
  if (field.at_least && value < *field.at_least - rounding)
    return missed("input.too_small", *field.at_least);
  if (field.at_most && value > *field.at_most + rounding)
    return missed("input.too_big", *field.at_most);
  if (field.dimension == dimension::length && std::abs(value) > kFarthest)
    return value < 0.0 ? missed("input.too_small", -kFarthest) : missed("input.too_big", kFarthest);
  if (field.kind != FieldKind::count) return true;
  if (value < 0.0 && !field.at_least) return missed("input.too_small", 0.0);
  return value <= kMostCount || missed("input.too_big", kMostCount);
}

std::optional<double> Evaluator::State::quantity(const Spot& spot, const std::string& path,
                                                 const Node& node) {
  const auto value =
      number(node, {path, spot.home, spot.field->dimension, &spot.guards}, describe(*spot.field));
  if (!value || !check_limits(spot, path, node.place, value->value)) return std::nullopt;
  return value->value;
}

std::optional<double> Evaluator::State::count(const Spot& spot, const Node& node) {
  const auto value =
      number(node, {spot.path, spot.home, dimension::none, &spot.guards}, describe(*spot.field));
  if (!value) return std::nullopt;
  const double whole = std::round(value->value);
  if (std::abs(value->value - whole) > 1e-9) {
    Finding finding = input_error("input.not_whole", node.place);
    finding.subjects = {spot.path};
    report(std::move(finding).with("value", value->value, Unit::none));
    return std::nullopt;
  }
  if (!check_limits(spot, spot.path, node.place, whole)) return std::nullopt;
  return whole;
}

std::optional<Size> Evaluator::State::size(const Spot& spot, const std::string& path,
                                           const Node& node) {
  const auto share = node.text() == nullptr ? std::nullopt : before_share(*node.text());
  if (!share) {
    const auto mm = quantity(spot, path, node);
    return mm ? std::optional(Size{*mm, 0.0}) : std::nullopt;
  }
  const auto count = mixed_number(*share);
  if (count && *count > 0.0 && *count <= kMostCount) return Size{0.0, *count};
  Finding finding = input_error("input.bad_share", node.place);
  finding.subjects = {path};
  report(std::move(finding).with("found", *node.text()));
  return std::nullopt;
}

// Words -----------------------------------------------------------------------------------------

bool Evaluator::State::check_choice(const Spot& spot, const std::string& path, const Node& node) {
  const Field& field = *spot.field;
  const bool reference = field.kind == FieldKind::reference;
  std::vector<std::string> known = field.choices;
  if (reference) {
    auto keys = resolvers.catalogue ? resolvers.catalogue(field.refers_to) : std::nullopt;
    if (!keys) return true;
    known = std::move(*keys);
  } else if (field.kind == FieldKind::texts && field.choices.empty()) {
    return true;
  }
  const std::string& word = *node.text();
  if (std::ranges::find(known, word) != known.end()) return true;
  if (enough() || (reference && is_rejected(table_of_reference(field.refers_to), word)))
    return false;
  if (known.empty()) {
    Finding finding = input_error("input.nothing_to_name", node.place);
    finding.subjects = {path};
    finding.with("found", word).with("kind", noun_of_reference(field.refers_to));
    finding.with("table", std::string(table_of_reference(field.refers_to)));
    report(std::move(finding));
    return false;
  }
  Finding finding =
      input_error(reference ? "input.unknown_reference" : "input.not_a_choice", node.place);
  finding.subjects = {path};
  finding.with("found", word).with("allowed", short_list(known));
  if (reference) finding.with("kind", noun_of_reference(field.refers_to));
  const std::string near = nearest(word, known);
  finding.with("mend", near.empty() ? "one of these" : near);
  report(std::move(finding));
  return false;
}

/// A catalogue entry that is written and yet not known: why has been told where it stands.
bool Evaluator::State::is_rejected(std::string_view kind, std::string_view key) const {
  const Node* entries = document.root.find(kind);
  const bool written = entries != nullptr && entries->find(key) != nullptr;
  if (!written) return in_unknown_table(key);
  const auto known = resolvers.catalogue(kind);  // it may be known and serve another purpose
  return known && std::ranges::find(*known, key) == known->end();
}

std::optional<std::string> Evaluator::State::words(const Spot& spot, const std::string& path,
                                                   const Node& node) {
  if (node.text() == nullptr) {
    wrong_type(spot, path, node);
    return std::nullopt;
  }
  const FieldKind kind = spot.field->kind;
  const bool checked =
      kind == FieldKind::choice || kind == FieldKind::reference || kind == FieldKind::texts;
  if (checked && !check_choice(spot, path, node)) return std::nullopt;
  if (kind == FieldKind::path) return path_beside(node.place, *node.text());
  return *node.text();
}

std::optional<std::string> Evaluator::State::date(const Spot& spot, const Node& node) {
  const auto* date = std::get_if<Node::Date>(&node.value);
  if (date != nullptr && is_date(date->text)) return date->text;
  wrong_type(spot, spot.path, node);
  return std::nullopt;
}

// Lists and tables ------------------------------------------------------------------------------

bool Evaluator::State::check_length(const Spot& spot, const Place& place, std::size_t items) {
  std::size_t least = spot.field->least;
  std::size_t most = spot.field->most;
  if (spot.field->kind == FieldKind::vector) {
    least = std::max<std::size_t>(least, 2);
    most = std::min<std::size_t>(most, 3);
  }
  if (items >= least && items <= most) return true;
  const bool empty = items == 0 && spot.field->kind != FieldKind::keyed;
  const char* code = items > most ? "input.too_many" : empty ? "input.empty_list" : "input.too_few";
  Finding finding = input_error(code, place);
  finding.place->text = shown(place.text);
  finding.subjects = {spot.path};
  if (empty) finding.with("example", spot.field->name + " = " + example_value(*spot.field));
  finding.with("count", static_cast<double>(items), Unit::count)
      .with("limit", static_cast<double>(items < least ? least : most), Unit::count);
  report(std::move(finding));
  return false;
}

template <class T, class ReadOne>
Computed Evaluator::State::list_of(const Spot& spot, const Node& node, ReadOne read_one) {
  const Node::Array* items = node.array();
  if (items == nullptr && (spot.field->kind == FieldKind::vector || node.table() != nullptr)) {
    wrong_type(spot, spot.path, node);
    return Computed::failed();
  }
  // A single value is a list of one.
  if (!check_length(spot, node.place, items == nullptr ? 1 : items->size())) {
    return Computed::failed();
  }
  std::vector<T> read;
  const auto add = [&](const std::string& path, const Node& item) {
    auto value = read_one(path, item);
    if (value) read.push_back(std::move(*value));
    return value.has_value();
  };
  bool good = true;
  if (items == nullptr) {
    good = add(spot.path, node);
  } else {
    for (std::size_t i = 0; i < items->size(); ++i) {
      good = add(spot.path + "." + std::to_string(i + 1), (*items)[i]) && good;
    }
  }
  if (!good) return Computed::failed();
  return {Computed::Outcome::value, {std::move(read), {}, false}, {}};
}

bool Evaluator::State::check_name(const std::string& path, const Entry& entry) {
  if (is_name(entry.key)) return true;
  Finding finding = input_error("input.bad_name", entry.key_place);
  finding.subjects = {path};
  finding.with("found", entry.key);
  const std::string mended = mended_name(entry.key);
  if (!mended.empty()) finding.with("mended", mended);
  report(std::move(finding));
  return false;
}

Computed Evaluator::State::tables(const Spot& spot, const Node& node) {
  std::vector<std::pair<std::string, Record>> read;
  bool good = true;
  const Schema& schema = *spot.field->inner;
  const auto add = [&](const std::string& name, const std::string& path, const Node& inner,
                       const Guards& guards) {
    auto record = read_table(path, &inner, inner.place, schema, spot.home, guards);
    if (record) read.emplace_back(name, std::move(*record));
    good = good && record;
  };
  const bool list = spot.field->kind == FieldKind::list;
  if (list ? node.array() == nullptr : node.table() == nullptr) {
    wrong_type(spot, spot.path, node);
    return Computed::failed();
  }
  if (spot.field->kind == FieldKind::table) {
    add(spot.field->name, spot.path, node, spot.guards);
  } else if (list) {
    if (!check_length(spot, node.place, node.array()->size())) return Computed::failed();
    std::size_t ordinal = 0;
    for (const Node& item : *node.array()) {
      const std::string name = std::to_string(++ordinal);
      add(name, spot.path + "." + name, item, spot.guards);
    }
  } else {
    std::size_t kept = 0;
    for (const Entry& entry : *node.table()) {
      const std::string path = spot.path + "." + entry.key;
      // A setting may add one more; a name that is nearly another one is a slip.
      auto finding = made_by_set(entry, node, spot.path);
      if (finding && finding->argument("nearest") != nullptr) {
        report(std::move(*finding));
        good = false;
        continue;
      }
      good = check_name(path, entry) && good;
      Guards guards = spot.guards;
      add_guard(guards, path, schema, &entry.value, spot.home);
      if (is_left_out(guards) && !is_left_out(spot.guards)) {
        (void)read_table(path, &entry.value, entry.value.place, schema, spot.home, guards);
        continue;
      }
      ++kept;
      add(entry.key, path, entry.value, guards);
    }
    good = check_length(spot, node.place, kept) && good;
  }
  if (!good) return Computed::failed();
  return {Computed::Outcome::value, {std::move(read), {}, false}, {}};
}

std::optional<Record> Evaluator::State::read_table(const std::string& path, const Node* node,
                                                   const Place& place, const Schema& schema,
                                                   const Declared* home, const Guards& guards) {
  if (node != nullptr && node->table() == nullptr) {
    wrong_type(path, *node, "table", "[" + path + "]");
    return std::nullopt;
  }
  bool good = true;
  static const Node::Table nothing;
  for (const Entry& entry : node == nullptr ? nothing : *node->table()) {
    if (schema.find(entry.key) != nullptr) continue;
    good = false;
    if (enough()) break;
    std::vector<std::string> allowed;
    for (const Field& field : schema.fields) allowed.push_back(field.name);
    Finding finding = input_error("input.unknown_key", entry.key_place);
    finding.subjects = {path + "." + entry.key};
    finding.with("key", entry.key).with("table", path).with("allowed", short_list(allowed));
    const std::string near = nearest(entry.key, allowed);
    if (!near.empty()) finding.with("nearest", near);
    report(std::move(finding));
  }
  Record record;
  record.set_place(place);
  for (const Field& field : schema.fields) {
    const Node* value = node == nullptr ? nullptr : node->find(field.name);
    Spot spot{path + "." + field.name,
              &field,
              value,
              value == nullptr ? place : value->place,
              home,
              guards};
    drop_own_guard(spot);
    const Computed& computed = compute(spot);
    if (computed.ok()) record.set(field.name, computed.item);
    good = good && computed.outcome != Computed::Outcome::failed;
  }
  return good ? std::optional(std::move(record)) : std::nullopt;
}

// Fields ----------------------------------------------------------------------------------------

Computed Evaluator::State::read_field(const Spot& spot) {
  if (spot.node != nullptr) {
    Computed result = read_node(spot, *spot.node);
    result.item.place = spot.place;
    result.item.given = true;
    return result;
  }
  if (!spot.field->fallback.empty()) {
    Computed result = read_node(spot, default_node(*spot.field, spot.place));
    result.item.place = spot.place;
    return result;
  }
  if (!spot.field->required) return Computed::absent();
  if (is_pattern(spot.guards)) return Computed::failed();
  if (is_misspelt(spot.path.substr(0, spot.path.find('.')))) return Computed::failed();
  Finding finding = input_error("input.missing", spot.place);
  finding.subjects = {spot.path.substr(0, spot.path.rfind('.'))};
  report(std::move(finding)
             .with("field", spot.field->name)
             .with("expected", describe(*spot.field))
             .with("meaning", spot.field->meaning));
  return Computed::failed();
}

namespace {

template <class T>
Computed computed_or_failed(std::optional<T> value) {
  if (!value) return Computed::failed();
  return {Computed::Outcome::value, {Record::Value(std::move(*value)), {}, false}, {}};
}

}  // namespace

Computed Evaluator::State::read_node(const Spot& spot, const Node& node) {
  switch (spot.field->kind) {
    case FieldKind::quantity:
      return computed_or_failed(quantity(spot, spot.path, node));
    case FieldKind::count:
      return computed_or_failed(count(spot, node));
    case FieldKind::flag: {
      if (spot.field->conditional) {
        const Wanted wanted{spot.path, spot.home, std::nullopt, &spot.guards};
        return computed_or_failed(condition(node, wanted, describe(*spot.field)));
      }
      const auto* flag = std::get_if<bool>(&node.value);
      if (flag == nullptr) {
        const bool meant = flag_word(node.text()).value_or(true);
        wrong_type(spot.path, node, describe(*spot.field), meant ? "true" : "false");
      }
      return computed_or_failed(flag == nullptr ? std::nullopt : std::optional(*flag));
    }
    case FieldKind::text:
    case FieldKind::choice:
    case FieldKind::reference:
    case FieldKind::path:
      return computed_or_failed(words(spot, spot.path, node));
    case FieldKind::date:
      return computed_or_failed(date(spot, node));
    case FieldKind::quantities:
    case FieldKind::vector:
      return list_of<double>(spot, node, [&](const std::string& path, const Node& item) {
        return quantity(spot, path, item);
      });
    case FieldKind::sizes:
      return list_of<Size>(spot, node, [&](const std::string& path, const Node& item) {
        return size(spot, path, item);
      });
    case FieldKind::texts:
      return list_of<std::string>(spot, node, [&](const std::string& path, const Node& item) {
        return words(spot, path, item);
      });
    case FieldKind::table:
    case FieldKind::keyed:
    case FieldKind::list:
      return tables(spot, node);
  }
  return Computed::failed();
}

}  // namespace ribbay
