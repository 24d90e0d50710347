#include "notice_words.hpp"

#include <algorithm>
#include <functional>

namespace ribbay {

namespace detail {

namespace {

std::string counted(std::size_t count, const std::string& one, const std::string& many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string difference_words(const Difference& difference) {
  if (difference.before.empty()) return difference.what + ": new: " + difference.after;
  if (difference.after.empty()) return difference.what + ": gone: " + difference.before;
  return difference.what + ": " + difference.before + " -> " + difference.after;
}

/// "P3", or "P3, before P2".
std::string mark_words(const PartChange& change) {
  if (change.fate == Fate::gone) return change.mark_before;
  if (change.mark_before.empty() || change.mark_before == change.mark_after)
    return change.mark_after;
  return change.mark_after + ", before " + change.mark_before;
}

std::size_t count(const ChangeNotice& notice, Fate fate) {
  return static_cast<std::size_t>(std::ranges::count(notice.parts, fate, &PartChange::fate));
}

}  // namespace

std::vector<NoticeSection> notice_sections(const ChangeNotice& notice) {
  std::vector<NoticeSection> sections;
  const auto add = [&](const char* heading, const std::function<bool(const PartChange&)>& belongs) {
    NoticeSection section{heading, {}};
    for (const PartChange& change : notice.parts) {
      if (belongs(change)) section.parts.push_back(&change);
    }
    if (!section.parts.empty()) sections.push_back(std::move(section));
  };
  const auto fate = [](Fate wanted) {
    return [wanted](const PartChange& change) { return change.fate == wanted; };
  };
  add("make from new material: new",
      [](const PartChange& change) { return change.fate == Fate::make && change.is_new; });
  add("make from new material: changed, the old part does not serve",
      [](const PartChange& change) { return change.fate == Fate::make && !change.is_new; });
  add("recut from an old part", fate(Fate::recut));
  add("drill or cut once more, the blank stays", fate(Fate::drill));
  add("keep, under another name", fate(Fate::as_other));
  add("keep, mark it anew", fate(Fate::kept));
  add("gone", fate(Fate::gone));
  return sections;
}

std::string head_words(const PartChange& change) {
  return change.id + " (" + mark_words(change) + "): " + change.title + ", " + change.size + ", " +
         change.stock;
}

std::vector<std::string> part_lines(const PartChange& change) {
  std::vector<std::string> all;
  if (!change.from.empty() && change.from != change.id)
    all.push_back(
        (change.fate == Fate::as_other ? "is " : "from ") + change.from +
        (change.fate == Fate::as_other ? ", as it is" : ", which is not needed as it was"));
  if (!change.used_for.empty()) all.push_back("its piece becomes " + change.used_for);
  for (const std::string& step : change.work) all.push_back("do: " + step);
  for (const Difference& difference : change.differences)
    all.push_back(difference_words(difference));
  return all;
}

std::string counts_words(const ChangeNotice& notice) {
  return std::to_string(notice.kept + count(notice, Fate::kept) + count(notice, Fate::as_other)) +
         " kept, " + std::to_string(count(notice, Fate::drill)) + " to drill or cut once more, " +
         std::to_string(count(notice, Fate::recut)) + " to recut, " +
         std::to_string(count(notice, Fate::make)) + " to make, " +
         std::to_string(count(notice, Fate::gone)) + " gone";
}

std::string places_words(const ChangeNotice& notice) {
  return std::string(notice.show == LengthStyle::inches ? "in" : "mm") +
         "; places on a part: right and up from its lower left corner, face up; along a bar from "
         "its start, x across its section and y up";
}

std::string need_words(const StockNeed& need) {
  return need.stock + ": " + counted(static_cast<std::size_t>(need.pieces), "piece", "pieces") +
         ", " +
         (need.length > 0.0 ? rounded_text(need.length / 1e3, 2) + " m"
                            : rounded_text(need.area / 1e6, 3) + " m2");
}

std::string bought_words(const BoughtChange& item) {
  const int more = item.after - item.before;
  return item.key + ": " + std::to_string(item.before) + " -> " + std::to_string(item.after) +
         " (" + (more > 0 ? "+" : "") + std::to_string(more) + ")  " + item.title;
}

std::string drawing_words(const DrawingChange& drawing) {
  if (!drawing.after) return "take down";
  return drawing.before ? "replace" : "new";
}

}  // namespace detail

namespace {

using namespace detail;

/// Lines about one part on the screen; the tables have them all.
constexpr std::size_t kMostLines = 12;

std::string part_words(const PartChange& change) {
  const std::vector<std::string> all = part_lines(change);
  std::string text = "  " + head_words(change) + "\n";
  for (std::size_t l = 0; l < std::min(all.size(), kMostLines); ++l) text += "    " + all[l] + "\n";
  if (all.size() > kMostLines)
    text +=
        "    and " + std::to_string(all.size() - kMostLines) + " more, see changes.csv or --json\n";
  return text;
}

/// A heading and a line for each item; nothing when there are none.
template <class Items, class Words>
std::string list(const std::string& heading, const Items& items, Words words) {
  if (items.empty()) return {};
  std::string text = "\n" + heading + "\n";
  for (const auto& item : items) text += "  " + words(item) + "\n";
  return text;
}

std::string drawings_text(const ChangeNotice& notice) {
  if (!notice.drawings)
    return "\ndrawings: not compared, one of the builds has none, or was made by an older ribbay\n";
  return list("drawings", *notice.drawings, [](const DrawingChange& drawing) {
    std::string fate = drawing_words(drawing);
    fate.resize(11, ' ');
    return fate + drawing.path;
  });
}

}  // namespace

std::string changes_text(const ChangeNotice& notice) {
  std::string text = "changes from " + notice.before + " to " + notice.after + "\n";
  if (notice.empty())
    return text + "nothing differs: " + std::to_string(notice.kept) +
           (notice.kept == 1 ? " part" : " parts") + " kept\n";
  text += "parts     " + counts_words(notice) + "\n";
  text += "lengths   " + places_words(notice) + "\n";
  for (const NoticeSection& section : notice_sections(notice)) {
    text += "\n" + section.heading + " (" + std::to_string(section.parts.size()) + ")\n";
    for (const PartChange* change : section.parts) text += part_words(*change);
  }
  return text + list(kNeedsHeading, notice.stock, need_words) +
         list("hardware and equipment", notice.bought,
              [](const BoughtChange& item) { return bought_words(item); }) +
         drawings_text(notice);
}

}  // namespace ribbay
