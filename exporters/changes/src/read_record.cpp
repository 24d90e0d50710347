#include "changes/parts_record.hpp"
#include "roles.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace ribbay {

namespace {

using namespace detail;
using Json = nlohmann::json;

/// No length of ours is longer, mm: what stands beyond is damage, and would not fit the grid that
/// areas are compared on.
constexpr double kLongest = 1e5;

/// Damage at a place in the file: thrown and caught in this file only.
struct Damage {
  std::string path;  ///< "/parts/3/cut_mm"
  std::string found;
  std::string expected;
};

/// A value and where it stands.
class Value {
 public:
  Value(const Json& json, std::string path) : json_(json), path_(std::move(path)) {}

  [[noreturn]] void refuse(const std::string& expected) const {
    std::string found = json_.is_array() ? "a list" : json_.is_object() ? "an object" : "";
    if (found.empty()) found = json_.dump(-1, ' ', true, Json::error_handler_t::replace);
    if (found.size() > 60) found = found.substr(0, 57) + "...";
    throw Damage{path_.empty() ? "/" : path_, found, expected};
  }

  Value operator[](const char* key) const {
    if (!json_.is_object()) refuse("an object");
    const auto found = json_.find(key);
    if (found == json_.end())
      throw Damage{path_ + "/" + key, "nothing", std::string("a value named ") + key};
    return {*found, path_ + "/" + key};
  }

  std::vector<Value> items() const {
    if (!json_.is_array()) refuse("a list");
    std::vector<Value> list;
    for (std::size_t i = 0; i < json_.size(); ++i)
      list.push_back({json_[i], path_ + "/" + std::to_string(i)});
    return list;
  }

  /// Of fixed length.
  std::vector<double> numbers(std::size_t count) const {
    const std::vector<Value> list = items();
    if (list.size() != count) refuse("a list of " + std::to_string(count) + " numbers");
    std::vector<double> values;
    for (const Value& item : list) values.push_back(item.number());
    return values;
  }

  std::map<std::string, Value> members() const {
    if (!json_.is_object()) refuse("an object");
    std::map<std::string, Value> list;
    for (const auto& [key, value] : json_.items())
      list.emplace(key, Value{value, path_ + "/" + key});
    return list;
  }

  std::string text() const {
    if (!json_.is_string()) refuse("a text");
    return json_.get<std::string>();
  }

  std::string name() const {
    std::string value = text();
    if (value.empty()) refuse("a text that is not empty");
    return value;
  }

  bool flag() const {
    if (!json_.is_boolean()) refuse("true or false");
    return json_.get<bool>();
  }

  double number() const {
    if (!json_.is_number()) refuse("a number");
    const double value = json_.get<double>();
    if (!std::isfinite(value) || std::abs(value) > kLongest)
      refuse("a number from -100000 to 100000");
    return value;
  }

  double at_least(double least) const {
    const double value = number();
    if (value < least) refuse("a number of at least " + number_text(least));
    return value;
  }

  int count(int least, int most) const {
    const bool whole = json_.is_number_integer();
    if (!whole || json_ < least || json_ > most)
      refuse("a whole number from " + std::to_string(least) + " to " + std::to_string(most));
    return json_.get<int>();
  }

  template <class Names>
  auto one_of(const Names& names) const {
    const std::string value = text();
    std::vector<std::string> all;
    for (const auto& [name, meaning] : names) {
      if (name == value) return meaning;
      all.emplace_back(name);
    }
    refuse("one of " + join(all, ", "));
  }

 private:
  const Json& json_;
  std::string path_;
};

Vec2 vec2(const Value& value) {
  const auto n = value.numbers(2);
  return {n[0], n[1]};
}

Vec3 vec3(const Value& value) {
  const auto n = value.numbers(3);
  return {n[0], n[1], n[2]};
}

template <class Item, class Read>
std::vector<Item> list(const Value& value, Read read) {
  std::vector<Item> items;
  for (const Value& item : value.items()) items.push_back(read(item));
  return items;
}

Loop loop(const Value& value) {
  return list<Corner>(value, [](const Value& item) {
    const auto n = item.numbers(3);
    return Corner{{n[0], n[1]}, n[2]};
  });
}

/// An outline by itself, or the outline and openings of a blank, that can be drawn.
void require_sound(const Value& value, const Region& region) {
  if (const std::string fault = ribbay::fault(region); !fault.empty())
    value.refuse("an outline that does not cross itself, counter-clockwise around material");
}

Cut cut(const Value& value) {
  Cut result{loop(value["outline_mm"]), value["from_mm"].number(), value["to_mm"].number(),
             value["role"].one_of(kCutRoles)};
  require_sound(value["outline_mm"], {result.outline, {}});
  return result;
}

Bore bore(const Value& value) {
  Bore result;
  result.at = vec3(value["at_mm"]);
  result.direction = vec3(value["way"]);
  if (std::abs(length(result.direction) - 1.0) > 1e-3)
    value["way"].refuse("a direction of length 1");
  result.diameter = value["diameter_mm"].at_least(0.0);
  result.depth = value["depth_mm"].at_least(0.0);
  result.through = value["through"].flag();
  result.thread = value["thread"].text();
  result.role = value["role"].one_of(kBoreRoles);
  return result;
}

BendLine bend(const Value& value) {
  return {vec2(value["a_mm"]), vec2(value["b_mm"]), value["angle_rad"].number(),
          value["radius_mm"].at_least(0.0)};
}

FinishRecord finish(const Value& value) {
  return {value["finish"].name(),
          value["face"].flag(),
          value["back"].flag(),
          list<Vec2>(value["edges_mm"], vec2),
          value["thickness_mm"].at_least(0.0),
          value["turn_over_mm"].at_least(0.0)};
}

PartRecord part(const Value& value) {
  PartRecord result;
  result.id = value["id"].name();
  result.module = value["module"].text();
  result.title = value["title"].text();
  result.mark = value["mark"].text();
  result.kind = value["kind"].one_of(kMadeKinds);
  result.stock = value["stock"].name();
  result.material = value["material"].text();
  const auto sizes = value["cut_mm"].numbers(3);
  if (std::ranges::min(sizes) < 0.0) value["cut_mm"].refuse("sizes that are not negative");
  result.length = sizes[0];
  result.width = sizes[1];
  result.thickness = sizes[2];
  result.grain = value["grain"].flag();
  result.finished = vec3(value["finished_mm"]);
  result.height = value["height_mm"].at_least(0.0);
  result.outline = {loop(value["outline_mm"]), list<Loop>(value["openings_mm"], loop)};
  if (result.kind != PartKind::member) require_sound(value["outline_mm"], result.outline);
  result.cuts = list<Cut>(value["cuts"], cut);
  result.bores = list<Bore>(value["holes"], bore);
  result.bends = list<BendLine>(value["bends"], bend);
  result.finishes = list<FinishRecord>(value["finishes"], finish);
  result.form = value["form"].text();
  return result;
}

SectionRecord section(const Value& value) {
  SectionRecord result{vec2(value["size_mm"]), value["digest"].text(), {}};
  for (const Value& item : value["turns"].items()) result.turns.push_back(item.count(0, 7));
  return result;
}

PartsRecord record(const Value& value) {
  PartsRecord result;
  result.project = value["project"].text();
  result.show = value["show"].one_of(kLengthStyles);
  for (const auto& [key, item] : value["sections"].members())
    result.sections.emplace(key, section(item));
  std::set<std::string> ids;
  for (const Value& item : value["parts"].items()) {
    result.parts.push_back(part(item));
    if (!ids.insert(result.parts.back().id).second)
      item["id"].refuse("an id that no other part has");
  }
  std::ranges::sort(result.parts, {}, &PartRecord::id);
  for (const Value& item : value["bought"].items())
    result.bought.push_back(
        {item["key"].name(), item["title"].text(), item["count"].count(0, 1'000'000)});
  return result;
}

Finding about(const char* code, const std::string& name) {
  Finding finding;
  finding.code = code;
  finding.subjects = {name};
  return finding;
}

/// Line and column of the byte before which reading stopped, counted from 1.
Place place_of(std::string_view bytes, const std::string& name, std::size_t byte) {
  const std::string_view before = bytes.substr(0, std::min(byte > 0 ? byte - 1 : 0, bytes.size()));
  const auto line = std::ranges::count(before, '\n') + 1;
  const std::size_t start =
      before.rfind('\n') == std::string_view::npos ? 0 : before.rfind('\n') + 1;
  return {name,
          static_cast<int>(line),
          static_cast<int>(character_count(before.substr(start))) + 1,
          {}};
}

}  // namespace

Result<PartsRecord> read_parts(std::string_view bytes, const std::string& name) {
  try {
    const Json json = Json::parse(bytes);
    const Value value(json, "");
    if (value["schema"].count(1, 1'000'000) > kPartsSchema)
      return fail(about("changes.newer", name)
                      .with("measured", value["schema"].number(), Unit::count)
                      .with("required", kPartsSchema, Unit::count));
    return record(value);
  } catch (const Json::parse_error& error) {
    Finding finding = about("changes.not_json", name);
    finding.place = place_of(bytes, name, error.byte);
    return fail(std::move(finding));
  } catch (const Damage& damage) {
    return fail(about("changes.damaged", name)
                    .with("path", damage.path)
                    .with("found", damage.found)
                    .with("expected", damage.expected));
  } catch (const nlohmann::json::exception& error) {
    return fail(about("changes.damaged", name)
                    .with("path", "/")
                    .with("found", error.what())
                    .with("expected", "a file that ribbay build wrote"));
  }
}

}  // namespace ribbay
