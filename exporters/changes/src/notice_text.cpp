#include "changes/changes.hpp"
#include "words.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace ribbay {

namespace {

using namespace detail;

/// Lines about one part on the screen; the tables have them all.
constexpr std::size_t kMostLines = 12;

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

std::string head_words(const PartChange& change) {
  return change.id + " (" + mark_words(change) + "): " + change.title + ", " + change.size + ", " +
         change.stock;
}

std::string lines(const std::vector<std::string>& all) {
  std::string text;
  for (std::size_t l = 0; l < std::min(all.size(), kMostLines); ++l) text += "    " + all[l] + "\n";
  if (all.size() > kMostLines)
    text +=
        "    and " + std::to_string(all.size() - kMostLines) + " more, see changes.csv or --json\n";
  return text;
}

std::string part_words(const PartChange& change) {
  std::vector<std::string> all;
  if (!change.from.empty() && change.from != change.id)
    all.push_back(
        (change.fate == Fate::as_other ? "is " : "from ") + change.from +
        (change.fate == Fate::as_other ? ", as it is" : ", which is not needed as it was"));
  if (!change.used_for.empty()) all.push_back("its piece becomes " + change.used_for);
  for (const std::string& step : change.work) all.push_back("do: " + step);
  for (const Difference& difference : change.differences)
    all.push_back(difference_words(difference));
  return "  " + head_words(change) + "\n" + lines(all);
}

/// A heading and the parts under it; nothing when there are none.
std::string section(const ChangeNotice& notice, const std::string& heading,
                    const std::function<bool(const PartChange&)>& belongs) {
  std::string text;
  std::size_t count = 0;
  for (const PartChange& change : notice.parts) {
    if (!belongs(change)) continue;
    ++count;
    text += part_words(change);
  }
  return count == 0 ? "" : "\n" + heading + " (" + std::to_string(count) + ")\n" + text;
}

std::string parts_words(const ChangeNotice& notice) {
  const auto fate = [](Fate wanted) {
    return [wanted](const PartChange& change) { return change.fate == wanted; };
  };
  std::string text;
  text += section(notice, "make from new material: new", [](const PartChange& change) {
    return change.fate == Fate::make && change.is_new;
  });
  text +=
      section(notice, "make from new material: changed, the old part does not serve",
              [](const PartChange& change) { return change.fate == Fate::make && !change.is_new; });
  text += section(notice, "recut from an old part", fate(Fate::recut));
  text += section(notice, "drill or cut once more, the blank stays", fate(Fate::drill));
  text += section(notice, "keep, under another name", fate(Fate::as_other));
  text += section(notice, "keep, mark it anew", fate(Fate::kept));
  text += section(notice, "gone", fate(Fate::gone));
  return text;
}

std::string stock_words(const ChangeNotice& notice) {
  if (notice.stock.empty()) return {};
  std::string text =
      "\nnew material (finished sizes; saw cuts and waste: see the new cutting plan)\n";
  for (const StockNeed& need : notice.stock) {
    text += "  " + need.stock + ": " +
            counted(static_cast<std::size_t>(need.pieces), "piece", "pieces") + ", " +
            (need.length > 0.0 ? rounded_text(need.length / 1e3, 2) + " m"
                               : rounded_text(need.area / 1e6, 3) + " m2") +
            "\n";
  }
  return text;
}

std::string bought_words(const ChangeNotice& notice) {
  if (notice.bought.empty()) return {};
  std::string text = "\nhardware and equipment\n";
  for (const BoughtChange& item : notice.bought) {
    const int more = item.after - item.before;
    text += "  " + item.key + ": " + std::to_string(item.before) + " -> " +
            std::to_string(item.after) + " (" + (more > 0 ? "+" : "") + std::to_string(more) +
            ")  " + item.title + "\n";
  }
  return text;
}

std::string drawings_words(const ChangeNotice& notice) {
  if (!notice.drawings) return "\ndrawings: not compared, one of the builds has none\n";
  std::string text;
  for (const DrawingChange& drawing : *notice.drawings) {
    text += std::string("  ") +
            (!drawing.after    ? "take down  "
             : !drawing.before ? "new        "
                               : "replace    ") +
            drawing.path + "\n";
  }
  return text.empty() ? text : "\ndrawings\n" + text;
}

}  // namespace

std::string changes_text(const ChangeNotice& notice) {
  std::string text = "changes from " + notice.before + " to " + notice.after + "\n";
  if (notice.empty())
    return text + "nothing differs: " + counted(notice.kept, "part", "parts") + " kept\n";
  const auto count = [&](Fate fate) {
    return static_cast<std::size_t>(std::ranges::count(notice.parts, fate, &PartChange::fate));
  };
  text += "parts     " + std::to_string(notice.kept + count(Fate::kept) + count(Fate::as_other)) +
          " kept, " + std::to_string(count(Fate::drill)) + " to drill or cut once more, " +
          std::to_string(count(Fate::recut)) + " to recut, " + std::to_string(count(Fate::make)) +
          " to make, " + std::to_string(count(Fate::gone)) + " gone\n";
  text +=
      "lengths   " + std::string(notice.show == LengthStyle::inches ? "in" : "mm") +
      "; places on a part: right and up from its lower left corner, face up; along a bar from its "
      "start, x across its section and y up\n";
  return text + parts_words(notice) + stock_words(notice) + bought_words(notice) +
         drawings_words(notice);
}

}  // namespace ribbay
