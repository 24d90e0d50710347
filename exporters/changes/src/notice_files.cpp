#include "changes/changes.hpp"
#include "notice_words.hpp"
#include "tables/csv.hpp"
#include "words.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace ribbay {

namespace {

using namespace detail;
using Json = nlohmann::ordered_json;
using Rows = std::vector<std::vector<std::string>>;

template <class Items, class ToJson>
Json list(const Items& items, ToJson to_json) {
  Json array = Json::array();
  for (const auto& item : items) array.push_back(to_json(item));
  return array;
}

Json text_or_null(const std::string& text) {
  return text.empty() ? Json() : Json(text);
}

Json part_json(const PartChange& change) {
  return {{"id", change.id},
          {"fate", name(change.fate)},
          {"new", change.is_new},
          {"title", change.title},
          {"module", change.module},
          {"stock", change.stock},
          {"size", change.size},
          {"mark_before", text_or_null(change.mark_before)},
          {"mark_after", text_or_null(change.mark_after)},
          {"from", text_or_null(change.from)},
          {"used_for", text_or_null(change.used_for)},
          {"work", change.work},
          {"differences", list(change.differences, [](const Difference& difference) -> Json {
             return {{"what", difference.what},
                     {"before", text_or_null(difference.before)},
                     {"after", text_or_null(difference.after)}};
           })}};
}

std::string drawing_fate(const DrawingChange& drawing) {
  if (!drawing.after) return "gone";
  return drawing.before ? "replace" : "new";
}

/// The columns that every row has, and those of its own.
std::vector<std::string> row(const std::string& about, const std::string& id,
                             const std::string& fate) {
  return {about, id, fate, "", "", "", "", "", "", "", ""};
}

enum Column { about, id, fate, mark_before, mark_after, stock, size, from, what, before, after };

void add_rows(const PartChange& change, Rows& rows) {
  const std::vector<std::string> head = [&] {
    auto cells = row("part", change.id, std::string(name(change.fate)));
    cells[mark_before] = change.mark_before;
    cells[mark_after] = change.mark_after;
    cells[stock] = change.stock;
    cells[size] = change.size;
    cells[from] = change.from;
    if (!change.used_for.empty()) {
      cells[what] = "piece becomes";
      cells[after] = change.used_for;
    }
    return cells;
  }();
  if (change.work.empty() && change.differences.empty()) rows.push_back(head);
  for (const std::string& step : change.work) {
    rows.push_back(head);
    rows.back()[what] = "do";
    rows.back()[after] = step;
  }
  for (const Difference& difference : change.differences) {
    rows.push_back(head);
    rows.back()[what] = difference.what;
    rows.back()[before] = difference.before;
    rows.back()[after] = difference.after;
  }
}

std::string changes_csv(const ChangeNotice& notice) {
  Rows rows{{"about", "id", "fate", "mark_before", "mark_after", "stock", "size", "from", "what",
             "before", "after"}};
  for (const PartChange& change : notice.parts) add_rows(change, rows);
  for (const StockNeed& need : notice.stock) {
    rows.push_back(row("stock", need.stock, "make"));
    rows.back()[what] = std::to_string(need.pieces) + " pieces";
    rows.back()[after] = need.length > 0.0 ? rounded_text(need.length / 1e3, 3) + " m"
                                           : rounded_text(need.area / 1e6, 3) + " m2";
  }
  for (const BoughtChange& item : notice.bought) {
    rows.push_back(row("bought", item.key, item.after > item.before ? "more" : "fewer"));
    rows.back()[what] = item.title;
    rows.back()[before] = std::to_string(item.before);
    rows.back()[after] = std::to_string(item.after);
  }
  if (notice.drawings) {
    for (const DrawingChange& drawing : *notice.drawings)
      rows.push_back(row("drawing", drawing.path, drawing_fate(drawing)));
  }
  return csv_text(rows);
}

}  // namespace

std::string changes_json(const ChangeNotice& notice) {
  Json json = {{"schema", 1},           {"before", notice.before},
               {"after", notice.after}, {"show", notice.show == LengthStyle::inches ? "in" : "mm"},
               {"kept", notice.kept},   {"parts", list(notice.parts, part_json)}};
  json["stock"] = list(notice.stock, [](const StockNeed& need) -> Json {
    return {{"stock", need.stock},
            {"pieces", need.pieces},
            {"length_mm", need.length},
            {"area_mm2", need.area}};
  });
  json["bought"] = list(notice.bought, [](const BoughtChange& item) -> Json {
    return {
        {"key", item.key}, {"title", item.title}, {"before", item.before}, {"after", item.after}};
  });
  json["drawings"] = nullptr;
  if (notice.drawings)
    json["drawings"] = list(*notice.drawings, [](const DrawingChange& drawing) -> Json {
      return {{"path", drawing.path}, {"fate", drawing_fate(drawing)}};
    });
  return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

OutputFiles changes_files(const ChangeNotice& notice, const std::string& folder) {
  return {
      {folder + "changes.csv", changes_csv(notice), "change notice: a row for each difference"},
      {folder + "changes.html", notice_page(notice), "change notice to print and tick off"},
      {folder + "changes.txt", changes_text(notice), "change notice: what to keep, recut and make"}};
}

}  // namespace ribbay
