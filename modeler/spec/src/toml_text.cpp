#include "toml_text.hpp"

#include "utf8.hpp"

#include <toml++/toml.h>

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr std::size_t kShown = 160;  // bytes: two lines of a terminal

std::string_view first_line(std::string_view text) {
  std::string_view line = text.substr(0, text.find('\n'));
  if (line.ends_with('\r')) line.remove_suffix(1);
  return line;
}

std::string_view line_around(std::string_view text, std::size_t at) {
  const std::size_t before = at == 0 ? std::string_view::npos : text.rfind('\n', at - 1);
  return first_line(text.substr(before == std::string_view::npos ? 0 : before + 1));
}

/// What stands at `at`, for a fault of the file's text.
Place place_of_byte(std::string_view text, std::size_t at, const std::string& file) {
  const std::string_view before = text.substr(0, at);
  const std::size_t line_start = before.rfind('\n') + 1;  // npos + 1 is 0
  return {file, static_cast<int>(std::ranges::count(before, '\n') + 1),
          static_cast<int>(count_characters(before.substr(line_start)) + 1),
          shown(line_around(text, at))};
}

/// What toml++ must not be given: it stores a dotted key as tables in tables and walks them by
/// recursion, and it stores every value of a file before anyone can count them.
struct Excess {
  std::string code;
  std::size_t offset = 0;
  std::size_t limit = 0;
};

std::optional<Excess> excess(std::string_view text, const InputLimits& limits) {
  std::size_t dots = 0;
  std::size_t marks = 0;
  const std::size_t most_marks =
      4 * limits.nodes;  // a value has at most about so many = , [ { . beside it
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    if (c == '#') {
      at = std::min(text.find('\n', at), text.size());
      dots = 0;
    } else if (c == '"' || c == '\'') {
      const std::string_view triple = text.substr(at, 3);
      const bool multiline = triple.size() == 3 && triple[1] == c && triple[2] == c;
      const std::string_view close = multiline ? triple : triple.substr(0, 1);
      at += close.size();
      while (at < text.size() && !text.substr(at).starts_with(close)) {
        if (!multiline && text[at] == '\n') break;  // not closed: a syntax error, told later
        at += c == '"' && text[at] == '\\' ? 2 : 1;
      }
      at += close.size() - 1;
    } else if (c == '.') {
      ++marks;
      if (++dots > limits.nesting) return Excess{"input.too_deep", at, limits.nesting};
    } else if (c == '\n' || c == '=' || c == ',' || c == '[' || c == ']' || c == '{') {
      dots = 0;
      marks += c == '\n' || c == ']' ? 0 : 1;
      if (marks > most_marks) return Excess{"input.too_many_values", at, limits.nodes};
    }
  }
  return std::nullopt;
}

/// Turns the tree of toml++ into ours, in file order.
class Converter {
 public:
  Converter(std::string_view text, const std::string& file, const InputLimits& limits)
      : text_(text), file_(file), limits_(limits), lines_(text) {}

  Node node(const toml::node& from, std::size_t depth) {
    Node result;
    result.place = place(from.source());
    if (++nodes_ > limits_.nodes) {
      fault("input.too_many_values", result.place, limits_.nodes);
    } else if (depth > limits_.nesting) {
      fault("input.too_deep", result.place, limits_.nesting);
    }
    if (fault_) return result;
    switch (from.type()) {
      case toml::node_type::table:
        result.value = table(*from.as_table(), depth);
        break;
      case toml::node_type::array:
        result.value = array(*from.as_array(), depth);
        break;
      case toml::node_type::string:
        // In full: places inside the string are found by it.
        result.place.text = first_line(slice(from.source()));
        result.value = string(from.as_string()->get(), result.place);
        break;
      case toml::node_type::integer:
        result.value = from.as_integer()->get();
        break;
      case toml::node_type::floating_point:
        result.value = from.as_floating_point()->get();
        break;
      case toml::node_type::boolean:
        result.value = from.as_boolean()->get();
        break;
      default:
        result.value = Node::Date{result.place.text};
        break;  // date, time or both
    }
    return result;
  }

  const std::optional<Finding>& first_fault() const { return fault_; }

 private:
  std::string_view slice(const toml::source_region& region) const {
    const std::size_t begin = lines_.offset(region.begin.line, region.begin.column);
    const std::size_t end = lines_.offset(region.end.line, region.end.column);
    return text_.substr(begin, end > begin ? end - begin : 0);
  }

  Place place(const toml::source_region& region) const {
    return {file_, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column),
            shown(slice(region))};
  }

  void fault(std::string code, const Place& at, std::size_t limit) {
    if (!fault_) {
      fault_ =
          input_error(std::move(code), at).with("limit", static_cast<double>(limit), Unit::count);
    }
  }

  std::string string(const std::string& from, Place& at) {
    if (from.size() > limits_.string_bytes) {
      at.text = shown(at.text);
      fault("input.text_too_long", at, limits_.string_bytes);
      return {};
    }
    return from;
  }

  Node::Array array(const toml::array& from, std::size_t depth) {
    Node::Array items;
    for (const toml::node& item : from) {
      items.push_back(node(item, depth + 1));
      if (fault_) break;
    }
    return items;
  }

  Node::Table table(const toml::table& from, std::size_t depth) {
    std::vector<std::pair<const toml::key*, const toml::node*>> entries;
    for (const auto& [key, value] : from) entries.emplace_back(&key, &value);
    std::ranges::stable_sort(entries, [](const auto& a, const auto& b) {
      const toml::source_position pa = a.first->source().begin;
      const toml::source_position pb = b.first->source().begin;
      return pa.line != pb.line ? pa.line < pb.line : pa.column < pb.column;
    });
    Node::Table result;
    for (const auto& [key, value] : entries) {
      Entry entry{std::string(key->str()), place(key->source()), node(*value, depth + 1)};
      if (entry.key.size() > limits_.string_bytes) {
        fault("input.text_too_long", entry.key_place, limits_.string_bytes);
      }
      result.push_back(std::move(entry));
      if (fault_) break;
    }
    return result;
  }

  std::string_view text_;
  const std::string& file_;
  const InputLimits& limits_;
  LineIndex lines_;
  std::size_t nodes_ = 0;
  std::optional<Finding> fault_;
};

/// "Error while parsing array: encountered end-of-file" without its first half.
std::string reason_of(const toml::parse_error& error) {
  std::string_view reason = error.description();
  const std::size_t colon = reason.find(": ");
  if (reason.starts_with("Error while") && colon != std::string_view::npos)
    reason.remove_prefix(colon + 2);
  return std::string(reason.substr(0, 2 * kShown));
}

/// `a = "23 5/8""` and `a = '3' 2"'`: a mark of feet or inches has closed its own text.
bool has_mark_in_quotes(std::string_view line) {
  char open = '\0';
  for (std::size_t at = line.find('=') + 1; at < line.size(); ++at) {
    const char c = line[at];
    if (open == '\0') {
      if (c == '#') return false;
      if (c == '"' || c == '\'') open = c;
    } else if (c == open) {
      open = '\0';
      const bool digit = line[at - 1] >= '0' && line[at - 1] <= '9';
      const std::size_t next = line.find_first_not_of(' ', at + 1);
      if (!digit || next == std::string_view::npos) continue;
      if (line[next] == c || line[next] == '"' || (line[next] >= '0' && line[next] <= '9'))
        return true;
    }
  }
  return false;
}

constexpr bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

constexpr bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// `width = 900 mm` in two.
struct KeyAndValue {
  std::string_view key;
  std::string_view value;
};

/// The two sides of a line's first =, without a remark; nullopt where one is missing, or where
/// quotes or brackets say that the value is more than a word or a number.
std::optional<KeyAndValue> key_and_value(std::string_view line) {
  const std::size_t sign = line.find('=');
  if (sign == std::string_view::npos || line.find_first_of("\"'[{") != std::string_view::npos)
    return std::nullopt;
  const auto trimmed = [](std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return std::string_view();
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
  };
  const KeyAndValue both{trimmed(line.substr(0, sign)),
                         trimmed(line.substr(sign + 1, line.find('#') - sign - 1))};
  if (both.key.empty() || both.value.empty()) return std::nullopt;
  return both;
}

/// True when a number with a unit stands there, and not a number in another notation.
bool has_unit(std::string_view value) {
  const std::size_t first = value.find_first_not_of("+-.");
  if (first == std::string_view::npos || !is_digit(value[first])) return false;
  const std::size_t unit = value.find_first_not_of("0123456789+-./ \t");
  if (unit == std::string_view::npos || !is_letter(value[unit])) return false;
  const bool spaced = value[unit - 1] == ' ' || value[unit - 1] == '\t';
  const bool notation = std::string_view("eExXoObBTtZ").find(value[unit]) != std::string_view::npos;
  return spaced || !notation;
}

/// True of words that are no misspelt true, false, inf or nan.
bool is_word(std::string_view value) {
  std::string small(value);
  std::ranges::transform(small, small.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return is_letter(small.front()) && small != "true" && small != "false" && small != "inf" &&
         small != "nan";
}

/// `width = "900 mm"` from `width = 900 mm`, `faces = "rear"` from `faces = rear`, `a = "3/4"` from
/// `a = 3/4`; nullopt when that is not what is wrong with the line.
std::optional<std::string> with_quotes(std::string_view line) {
  const auto both = key_and_value(line);
  if (!both || both->value.find('=') != std::string_view::npos) return std::nullopt;
  const std::string_view value = both->value;
  const bool computed = value.find_first_not_of("0123456789.+-*/() ") == std::string_view::npos &&
                        value.find_first_of("*/") != std::string_view::npos;
  if (!has_unit(value) && !is_word(value) && !computed) return std::nullopt;
  return std::string(both->key) + " = \"" + std::string(value) + "\"";
}

/// `width = 5.50` from `width = 5,50`; nullopt when that is not what is wrong with the line.
std::optional<std::string> with_point(std::string_view line) {
  const auto both = key_and_value(line);
  if (!both || both->value.find_first_not_of("0123456789,+-") != std::string_view::npos ||
      std::ranges::count(both->value, ',') != 1 || both->value.front() == ',' ||
      both->value.back() == ',') {
    return std::nullopt;
  }
  std::string value(both->value);
  std::ranges::replace(value, ',', '.');
  return std::string(both->key) + " = " + value;
}

/// `width = "550mm"` from `width = "550mm`: a text that its line does not close.
std::optional<std::string> with_end_quote(std::string_view line) {
  const std::size_t sign = line.find('=');
  const std::size_t open = sign == std::string_view::npos ? sign : line.find_first_of("\"'", sign);
  if (open == std::string_view::npos || line.find(line[open], open + 1) != std::string_view::npos ||
      line.find_first_not_of(" \t", sign + 1) != open) {
    return std::nullopt;
  }
  const std::string_view text = line.substr(0, line.find('#', open));
  return std::string(text.substr(0, text.find_last_not_of(" \t\r") + 1)) + line[open];
}

Result<Node> parse(std::string_view bytes, const std::string& file, const InputLimits& limits) {
  try {
    const toml::table table = toml::parse(bytes);
    Converter converter(bytes, file, limits);
    Node root = converter.node(table, 0);
    if (converter.first_fault()) return fail(*converter.first_fault());
    return root;
  } catch (const toml::parse_error& error) {
    const toml::source_position at = error.source().begin;
    const std::size_t offset = LineIndex(bytes).offset(at.line, at.column);
    Place place{file, static_cast<int>(at.line), static_cast<int>(at.column),
                shown(line_around(bytes, std::min(offset, bytes.size())))};
    if (has_mark_in_quotes(place.text)) {
      return fail(input_error("input.mark_in_quotes", std::move(place)));
    }
    if (const auto mended = with_quotes(place.text)) {
      return fail(input_error("input.no_quotes", std::move(place)).with("mended", *mended));
    }
    if (const auto mended = with_point(place.text)) {
      return fail(input_error("input.decimal_comma", std::move(place)).with("mended", *mended));
    }
    if (const auto mended = with_end_quote(place.text)) {
      return fail(input_error("input.open_quote", std::move(place)).with("mended", *mended));
    }
    return fail(input_error("input.syntax", std::move(place)).with("reason", reason_of(error)));
  } catch (const std::exception& error) {
    return fail(input_error("input.syntax", {file, 0, 0, {}}).with("reason", error.what()));
  }
}

}  // namespace

std::string shown(std::string_view text) {
  const std::string_view line = first_line(text);
  if (line.size() <= kShown) return std::string(line);
  std::size_t cut = kShown;
  while ((static_cast<unsigned char>(line[cut]) & 0xC0U) == 0x80U) --cut;
  return std::string(line.substr(0, cut)) + "...";
}

Result<Node> read_toml(std::string_view bytes, const std::string& file, const InputLimits& limits) {
  if (bytes.starts_with("\xEF\xBB\xBF")) bytes.remove_prefix(3);  // byte order mark
  if (const std::size_t bad = first_bad_utf8(bytes); bad != std::string_view::npos) {
    Place place = place_of_byte(bytes.substr(0, bad), bad, file);
    return fail(input_error("input.not_utf8", std::move(place)));
  }
  if (const auto too_much = excess(bytes, limits)) {
    return fail(input_error(too_much->code, place_of_byte(bytes, too_much->offset, file))
                    .with("limit", static_cast<double>(too_much->limit), Unit::count));
  }
  Result<Node> root = parse(bytes, file, limits);
  if (root && root->table()->empty()) return fail(input_error("input.empty", {file, 0, 0, {}}));
  if (root) root->place = {file, 0, 0, {}};
  return root;
}

namespace {

constexpr std::string_view kKey = "v = ";  // stands before a value while it is read

void move_places(Node& node, const Place& base, int shift) {
  const auto move = [&](Place& place) {
    place.file = base.file;
    place.line = base.line;
    place.column += base.column - 1 - shift;
  };
  move(node.place);
  if (auto* items = std::get_if<Node::Array>(&node.value)) {
    for (Node& item : *items) move_places(item, base, shift);
  } else if (auto* entries = std::get_if<Node::Table>(&node.value)) {
    for (Entry& entry : *entries) {
      move(entry.key_place);
      move_places(entry.value, base, shift);
    }
  }
}

}  // namespace

std::optional<Finding> fault_of_value(std::string_view text, const Place& place,
                                      const InputLimits& limits) {
  if (text.empty() || std::string_view("[{\"").find(text.front()) == std::string_view::npos) {
    return std::nullopt;
  }
  const Result<Node> parsed = read_toml(std::string(kKey) + std::string(text), place.file, limits);
  if (parsed) return std::nullopt;
  Finding fault = parsed.error().front();
  const int inside = fault.place->column - 1 - static_cast<int>(kKey.size());
  fault.place = place;
  fault.place->column += std::max(inside, 0);
  return fault;
}

Node read_value(std::string_view text, const Place& place, const InputLimits& limits) {
  const bool one_line = text.find('\n') == std::string_view::npos;
  if (one_line && !text.empty() && first_bad_utf8(text) == std::string_view::npos) {
    Result<Node> parsed = read_toml(std::string(kKey) + std::string(text), place.file, limits);
    if (parsed) {
      Node value = std::move(std::get<Node::Table>(parsed->value).front().value);
      move_places(value, place, static_cast<int>(kKey.size()));
      return value;
    }
  }
  Node bare;
  bare.value = std::string(text);
  bare.place = place;
  bare.place.text = shown(text);
  return bare;
}

namespace {

/// Bytes of raw TOML that stand for one byte-run of the string as read, and the bytes read from it.
struct Piece {
  std::size_t raw = 1;
  std::size_t read = 1;
};

Piece piece_at(std::string_view raw) {
  if (raw.size() < 2 || raw[0] != '\\') return {};
  if (raw[1] != 'u' && raw[1] != 'U') return {2, 1};
  const std::size_t digits = raw[1] == 'u' ? 4 : 8;
  unsigned long code = 0;
  for (const char c : raw.substr(2, digits)) {
    const int digit = c >= '0' && c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10;
    code = code * 16 + static_cast<unsigned long>(digit);
  }
  return {2 + digits, code < 0x80U ? 1U : code < 0x800U ? 2U : code < 0x10000U ? 3U : 4U};
}

}  // namespace

Place place_inside(const Node& string, std::size_t offset) {
  Place place = string.place;
  const std::string_view raw = place.text;
  const char quote = raw.empty() ? '\0' : raw.front();
  const bool quoted = quote == '"' || quote == '\'';
  const std::string_view triple = raw.substr(0, 3);
  const bool multiline = quoted && triple.size() == 3 && triple[1] == quote && triple[2] == quote &&
                         *string.text() != "";
  if (multiline) {
    const std::string_view read = std::string_view(*string.text()).substr(0, offset);
    const std::size_t line_start = read.rfind('\n') + 1;
    const bool starts_below = raw.size() == 3;
    place.line += static_cast<int>(std::ranges::count(read, '\n')) + (starts_below ? 1 : 0);
    const bool first = line_start == 0 && !starts_below;
    place.column = (first ? place.column + 3 : 1) +
                   static_cast<int>(count_characters(read.substr(line_start)));
    return place;
  }
  std::size_t at = quoted ? 1 : 0;
  std::size_t read = 0;
  while (read < offset && at < raw.size()) {
    const Piece piece = quote == '"' ? piece_at(raw.substr(at)) : Piece{};
    at += piece.raw;
    read += piece.read;
  }
  place.column += static_cast<int>(count_characters(raw.substr(0, at)));
  return place;
}

}  // namespace ribbay::detail
