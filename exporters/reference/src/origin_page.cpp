#include "reference/origin_page.hpp"

#include "base/text_table.hpp"
#include "spec/vocabulary.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <vector>

namespace ribbay {

namespace {

/// Columns are lined up as far as their texts are no longer than this.
constexpr std::size_t kWidest = 56;

constexpr double kLitre = 1e6;          // mm3
constexpr std::size_t kLongList = 200;  // bytes of a list that are worth printing

std::string number_words(const Quantity& quantity, LengthStyle show) {
  if (quantity.dimension == dimension::length) return value_text(quantity.value, Unit::mm, show);
  if (quantity.dimension == dimension::volume) {
    return rounded_text(quantity.value / kLitre, 6) + " l";
  }
  const std::string unit = bare_unit(quantity.dimension);
  const double bare = as_bare_number(quantity.value, quantity.dimension);
  return rounded_text(bare, 6) + (unit.empty() ? "" : " " + unit);
}

std::string list_words(const std::vector<Origin::Item>& items, LengthStyle show) {
  std::string list;
  for (const Origin::Item& item : items) {
    if (list.size() > kLongList) return list + ", ...";
    if (!list.empty()) list += ", ";
    list += item.quantity ? number_words(*item.quantity, show) : item.text;
  }
  return list;
}

/// "module.rack.width", or a question as it would be asked in these units.
std::string name_words(const Origin& origin, LengthStyle show) {
  if (origin.arguments.empty()) return origin.path;
  std::vector<std::string> arguments;
  for (const Quantity& each : origin.arguments) arguments.push_back(number_words(each, show));
  return origin.path.substr(0, origin.path.find('(')) + "(" + join(arguments, ", ") + ")";
}

std::string value_words(const Origin& origin, LengthStyle show) {
  if (origin.value) return number_words(*origin.value, show);
  if (!origin.answer.empty()) return list_words(origin.answer, show);
  const bool table = !origin.uses.empty() || origin.shortened;
  return table ? "" : "no value";
}

std::string place_words(const Place& place) {
  if (place.file.empty()) return {};
  if (place.line == 0) return place.file;
  return place.file + ":" + std::to_string(place.line) + ":" + std::to_string(place.column);
}

/// How the value came about, and where.
struct Source {
  std::string written;
  std::string place;
};

Source source_of(const Origin& origin) {
  switch (origin.kind) {
    case Origin::Kind::written:
      return {origin.written, place_words(origin.place)};
    case Origin::Kind::fallback:
      return {origin.written, "default"};
    case Origin::Kind::answered:
      break;
  }
  const bool question = origin.path.find('(') != std::string::npos;
  if (question) return {"", "answer of the van"};
  return {"", origin.path.starts_with("vehicle.") ? "fact of the van" : "worked out"};
}

using Cells = std::vector<std::string>;  ///< name, value, written, place

void add_rows(const Origin& origin, std::size_t level, LengthStyle show, std::vector<Cells>& rows) {
  for (const Origin& used : origin.uses) {
    const Source source = source_of(used);
    const std::string value = value_words(used, show);
    rows.push_back({std::string(2 * level, ' ') + name_words(used, show), value,
                    source.written == value ? "" : source.written, source.place});
    if (used.shortened) rows.back()[3] += ", not unfolded again";
    add_rows(used, level + 1, show, rows);
  }
}

// JSON ------------------------------------------------------------------------------------------

using Json = nlohmann::ordered_json;

Json place_json(const Place& place) {
  if (place.file.empty()) return {};
  return {{"file", place.file}, {"line", place.line}, {"column", place.column}};
}

Json json_of(const Origin& origin) {
  constexpr std::array kinds = {"written", "default", "answered"};
  Json json = {{"name", origin.path}, {"kind", kinds[static_cast<std::size_t>(origin.kind)]}};
  json["written"] = origin.written.empty() ? Json() : Json(origin.written);
  json["place"] = place_json(origin.place);
  json["replaced"] = Json::array();
  for (const Place& place : origin.earlier) json["replaced"].push_back(place_json(place));
  json["value"] = nullptr;
  json["unit"] = nullptr;
  if (origin.value) {
    json["value"] = as_bare_number(origin.value->value, origin.value->dimension);
    json["unit"] = bare_unit(origin.value->dimension);
  }
  json["answer"] = nullptr;
  if (!origin.answer.empty()) {
    json["answer"] = list_words(origin.answer, LengthStyle::millimetres);
  }
  json["uses"] = Json::array();
  for (const Origin& used : origin.uses) json["uses"].push_back(json_of(used));
  json["shortened"] = origin.shortened;
  return json;
}

}  // namespace

std::string origin_page(const Origin& origin, LengthStyle show) {
  const Source source = source_of(origin);
  const std::string value = value_words(origin, show);
  std::string page = name_words(origin, show) + (value.empty() ? "" : " is " + value) + "\n";
  if (!source.written.empty()) page += "  written   " + source.written + "\n";
  page += "  at        " + source.place + "\n";
  for (const Place& place : origin.earlier) {
    page +=
        "  replaces  " + place.text + (place.text.empty() ? "" : "  ") + place_words(place) + "\n";
  }
  if (origin.uses.empty()) return page;
  std::vector<Cells> rows;
  add_rows(origin, 0, show, rows);
  return page + "made from\n" + lined_up(rows, {.indent = "  ", .right = {}, .widest = kWidest});
}

std::string origin_json(const Origin& origin) {
  return json_of(origin).dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace ribbay
