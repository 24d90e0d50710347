#include "layout/coverings.hpp"
#include "table_text.hpp"
#include "tables/csv.hpp"
#include "tables/finish_amounts.hpp"
#include "tables/tables.hpp"

#include <algorithm>
#include <map>

namespace ribbay {

namespace {

using namespace detail;

constexpr double kSquareMetre = 1e6;  // mm2
constexpr double kMetre = 1e3;        // mm
constexpr double kLitre = 1e6;        // mm3

/// What is bought more than is laid on. Common practice, no source.
double waste(FinishKind kind) {
  return kind == FinishKind::film ? 0.15 : 0.10;
}

std::string kind_name(FinishKind kind) {
  switch (kind) {
    case FinishKind::coat:
      return "coat";
    case FinishKind::film:
      return "film";
    case FinishKind::edge_band:
      break;
  }
  return "edge band";
}

std::string amount_unit(FinishKind kind) {
  return kind == FinishKind::coat ? "l" : kind == FinishKind::film ? "m2" : "m";
}

/// Parts that are alike and covered alike.
struct Covered {
  std::string mark;
  const Part* part = nullptr;
  Covering covering;
  std::vector<std::string> ids;
};

/// The piece of film that is cut for a part.
Vec2 blank_of(const Covered& covered) {
  if (covered.covering.turn_over > 0.0) return wrap_blank(*covered.part, covered.covering);
  return {covered.part->stock.length, covered.part->stock.width};
}

/// Litres, square metres or metres for one part.
double amount_of(const Finish& finish, const Covered& covered) {
  const double area = covered_area(*covered.part, covered.covering);
  switch (finish.kind) {
    case FinishKind::coat:
      return finish.coverage > 0.0 ? area * finish.coats / finish.coverage / kLitre : 0.0;
    case FinishKind::film: {
      const int faces = (covered.covering.face ? 1 : 0) + (covered.covering.back ? 1 : 0);
      const Vec2 blank = blank_of(covered);
      return faces == 0 ? area / kSquareMetre : faces * blank.x * blank.y / kSquareMetre;
    }
    case FinishKind::edge_band:
      break;
  }
  return covered_length(*covered.part, covered.covering) / kMetre;
}

std::string covers_text(const Part& part, const Covering& covering) {
  std::vector<std::string> words;
  if (covering.face) words.emplace_back("face");
  if (covering.back) words.emplace_back("back");
  if (covers_all_edges(part, covering))
    words.emplace_back("edges");
  else if (!covering.edges.empty())
    words.push_back(std::to_string(covering.edges.size()) + " edges");
  if (covering.turn_over > 0.0) words.emplace_back("turned over");
  return join(words, "; ");
}

std::map<std::string, std::vector<Covered>> covered_parts(const Layout& layout) {
  std::map<std::string, std::vector<Covered>> finishes;
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t index : type.parts) {
      const Part& part = layout.parts[index];
      for (const Covering& covering : part.coverings) {
        std::vector<Covered>& list = finishes[covering.finish];
        const auto same = std::ranges::find_if(list, [&](const Covered& other) {
          return other.mark == type.mark && other.covering == covering;
        });
        if (same != list.end())
          same->ids.push_back(part.id);
        else
          list.push_back({type.mark, &part, covering, {part.id}});
      }
    }
  }
  return finishes;
}

void add_rows(const Finish& finish, const std::vector<Covered>& parts, LengthStyle show,
              Rows& rows) {
  double area = 0.0;
  double amount = 0.0;
  std::size_t count = 0;
  const std::string coats =
      finish.kind == FinishKind::coat ? std::to_string(finish.coats) : std::string();
  for (const Covered& covered : parts) {
    const auto pieces = static_cast<double>(covered.ids.size());
    const double own_area =
        pieces * covered_area(*covered.part, covered.covering) / kSquareMetre;
    const double own_amount = pieces * amount_of(finish, covered);
    const bool cut = finish.kind == FinishKind::film && (covered.covering.face || covered.covering.back);
    const Vec2 blank = cut ? blank_of(covered) : Vec2{};
    rows.push_back({finish.key, finish.title, kind_name(finish.kind), covered.mark,
                    covered.part->title, std::to_string(covered.ids.size()),
                    covers_text(*covered.part, covered.covering), rounded_text(own_area, 3), coats,
                    "0", rounded_text(own_amount, 3), amount_unit(finish.kind),
                    cut ? size_text(blank.x, show) : "", cut ? size_text(blank.y, show) : "",
                    join(covered.ids, "; ")});
    area += own_area;
    amount += own_amount;
    count += covered.ids.size();
  }
  const double more = waste(finish.kind);
  rows.push_back({finish.key, finish.title, kind_name(finish.kind), "total", "to buy",
                  std::to_string(count), "", rounded_text(area, 3), coats,
                  rounded_text(100 * more, 0), rounded_text(amount * (1 + more), 3),
                  amount_unit(finish.kind), "", "", ""});
}

}  // namespace

std::vector<FinishAmount> finish_amounts(const Layout& layout) {
  std::vector<FinishAmount> amounts;
  for (const auto& [key, parts] : covered_parts(layout)) {
    const auto found = layout.catalogue->finishes.find(key);
    if (found == layout.catalogue->finishes.end()) continue;
    const Finish& finish = found->second;
    double amount = 0.0;
    for (const Covered& covered : parts)
      amount += static_cast<double>(covered.ids.size()) * amount_of(finish, covered);
    amounts.push_back({key, finish.title, finish.kind, amount * (1 + waste(finish.kind)),
                       amount_unit(finish.kind)});
  }
  return amounts;
}

OutputFile finish_list(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  const std::string unit = size_unit(show);
  Rows rows = {{"finish", "title", "kind", "mark", "part", "count", "covers", "area_m2", "coats",
                "waste_percent", "amount", "unit", "blank_length" + unit, "blank_width" + unit,
                "ids"}};
  for (const auto& [key, parts] : covered_parts(layout)) {
    const auto finish = layout.catalogue->finishes.find(key);
    if (finish != layout.catalogue->finishes.end()) add_rows(finish->second, parts, show, rows);
  }
  return {"shop/finishes.csv", csv_text(rows),
          "finishes: what is covered, blanks of film, and how much to buy"};
}

}  // namespace ribbay
