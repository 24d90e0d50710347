#include "reference/stock_page.hpp"

#include "base/text.hpp"
#include "base/text_table.hpp"
#include "catalogue/titles.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

namespace ribbay {

namespace {

using Row = std::vector<std::string>;

constexpr double kZeroCelsius = 273.15;  // K

/// Facts of one equipment in words and tables, in the units of a project.
class EquipmentPage {
 public:
  EquipmentPage(const Equipment& item, LengthStyle show) : item_{item}, show_{show} {}

  std::string text() {
    const Box all = item_.bounds();
    const Box body = item_.body();
    Row size{"size", sizes(all.size())};
    if (length(all.size() - body.size()) > 0.0)
      size.back() += ", its main body " + sizes(body.size());
    facts_.push_back(std::move(size));
    facts_.push_back({"mass", mass()});
    add("air", air());
    add("hot", hot());
    for (const OpensFront& front : item_.opens) facts_.push_back({"opens", opening(front)});
    if (item_.comes_out) facts_.push_back({"comes out", comes_out(*item_.comes_out)});
    return "equipment." + item_.key + ": " + item_.title + "\n" +
           lined_up(facts_, {.indent = "  ", .right = {}}) + ports() + fixings();
  }

 private:
  std::string mm(double value) const { return value_text(value, Unit::mm, show_); }
  std::string place(double value) const { return length_text(value, show_); }
  static std::string degrees(double radians) {
    return value_text(radians * 180.0 / std::numbers::pi, Unit::degree, LengthStyle::millimetres);
  }

  std::string sizes(Vec3 size) const {
    return length_text(size.x, show_) + " x " + length_text(size.y, show_) + " x " + mm(size.z);
  }

  void add(const char* name, const std::string& words) {
    if (!words.empty()) facts_.push_back({name, words});
  }

  std::string mass() const {
    const std::string full = value_text(item_.mass_kg, Unit::kg, show_);
    if (item_.empty_mass_kg <= 0.0 || item_.empty_mass_kg == item_.mass_kg) return full;
    return full + ", as bought " + value_text(item_.empty_mass_kg, Unit::kg, show_);
  }

  std::string air() const {
    std::vector<std::string> sides;
    for (const auto& [face, gap] : item_.air) sides.push_back(name(face) + " " + mm(gap));
    return join(sides, ", ");
  }

  std::string hot() const {
    std::vector<std::string> sides;
    for (const auto& [face, hot] : item_.hot) {
      sides.push_back(name(face) + " " + rounded_text(hot.kelvin - kZeroCelsius, 0) + " degC, " +
                      mm(hot.gap) + " from what burns or softens");
    }
    return join(sides, "; ");
  }

  std::string opening(const OpensFront& front) const {
    constexpr const char* kWays[] = {"swings", "lifts", "drops", "is pulled out"};
    const std::string way = kWays[static_cast<std::size_t>(front.way)];
    std::string words = front.name + " at the " + name(front.face) + " " + way;
    if (front.angle > 0.0)
      words += " " + degrees(front.angle) + " about its " + name(front.hinge) + " edge";
    return words + ", comes out " + mm(front.reach);
  }

  static std::string comes_out(const ComesOut& way) {
    std::string words = "to the " + name(way.towards);
    if (way.fasteners > 0) {
      words +=
          ", " + std::to_string(way.fasteners) + (way.fasteners == 1 ? " fastener" : " fasteners");
      if (!way.tool.empty()) words += " by " + way.tool;
    }
    return way.on_sled ? words + ", with its sled" : words;
  }

  std::string table(const char* heading, std::vector<Row> rows, std::vector<bool> right) const {
    if (rows.size() == 1) return std::string("no ") + heading + "\n";
    const std::string unit = show_ == LengthStyle::inches ? "in" : "mm";
    return std::string(heading) + ", " + unit + "\n" +
           lined_up(rows, {.indent = "  ", .right = std::move(right)});
  }

  std::string ports() const {
    std::vector<Row> rows{{"port", "kind", "right", "back", "up", "diameter", "leaves at the"}};
    for (const Port& port : item_.ports) {
      rows.push_back({port.name, port.kind, place(port.at.x), place(port.at.y), place(port.at.z),
                      place(port.diameter), name(port.out)});
    }
    return table("ports", std::move(rows), {false, false, true, true, true, true, false});
  }

  std::string fixings() const {
    std::vector<Row> rows{{"hole", "right", "back", "up", "diameter", "its screw goes to the"}};
    for (const FixingHole& hole : item_.fixings) {
      rows.push_back({hole.name, place(hole.at.x), place(hole.at.y), place(hole.at.z),
                      place(hole.diameter), way_of(hole.direction)});
    }
    return table("fixing holes", std::move(rows), {false, true, true, true, true, false});
  }

  static std::string way_of(Vec3 direction) {
    for (const Face face :
         {Face::front, Face::back, Face::left, Face::right, Face::top, Face::bottom}) {
      if (dot(outward(face), direction) > 0.5) return name(face);
    }
    return {};
  }

  const Equipment& item_;
  LengthStyle show_;
  std::vector<Row> facts_;
};

std::string listed(const Catalogue& catalogue, const std::string& heading,
                   const std::vector<std::string>& keys) {
  std::vector<Row> rows;
  for (const std::string& key : keys) rows.push_back({key, stock_title(catalogue, key)});
  return rows.empty() ? std::string() : heading + lined_up(rows, {.indent = "  ", .right = {}});
}

}  // namespace

std::string stock_page(const Catalogue& catalogue, std::string_view table) {
  return listed(catalogue, "[" + std::string(table) + ".NAME]: the entries of this project\n",
                catalogue.keys(table).value_or(std::vector<std::string>{}));
}

std::string purpose_page(const Catalogue& catalogue, std::string_view purpose) {
  std::string words(purpose);
  std::ranges::replace(words, '_', ' ');
  for (const char* table : {"bolt", "finish", "sheet", "fitting"}) {
    const auto keys = catalogue.keys(std::string(table) + ": " + words);
    if (keys && !keys->empty()) {
      return listed(catalogue,
                    "[" + std::string(table) + ".NAME]: what fields take as " + words + "\n",
                    *keys);
    }
  }
  return {};
}

std::string equipment_page(const Equipment& item, LengthStyle show) {
  return EquipmentPage(item, show).text();
}

}  // namespace ribbay
