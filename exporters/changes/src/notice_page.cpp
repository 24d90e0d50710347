#include "notice_words.hpp"

#include "base/markup.hpp"
#include "tables/html.hpp"

namespace ribbay::detail {

namespace {

constexpr const char* kStyle = R"(
ul { list-style: none; padding: 0; } li { break-inside: avoid; padding: .15rem 0 .15rem 1.7rem; position: relative; }
li::before { content: ""; position: absolute; left: 0; top: .3rem; width: .85rem; height: .85rem; border: 1px solid #1c2024; }
h2 { border-bottom: 1px solid #1c2024; break-after: avoid; }
.more { color: #3b4248; font-size: .87em; margin-left: 1rem; }
)";

/// A line with a box to tick, and what belongs to it.
std::string tick(const std::string& words, const std::vector<std::string>& more = {}) {
  std::string text = markup_escaped(words);
  for (const std::string& line : more)
    text += "<br>" + html_tag("span", markup_escaped(line), "more");
  return html_tag("li", text) + "\n";
}

std::string section(const std::string& heading, const std::string& items) {
  if (items.empty()) return {};
  return html_tag("h2", markup_escaped(heading)) + "\n" + html_tag("ul", "\n" + items) + "\n";
}

}  // namespace

std::string notice_page(const ChangeNotice& notice) {
  const std::string title = "Change notice";
  std::string body = html_tag("h1", title) + "\n" +
                     html_tag("p", "From " + markup_escaped(notice.before) + " to " +
                                       markup_escaped(notice.after)) +
                     "\n";
  if (notice.empty())
    return html_page(title, kStyle,
                     body + html_tag("p", "Nothing differs: " + std::to_string(notice.kept) +
                                              " parts kept.") + "\n");
  body += html_tag("p", "Parts: " + counts_words(notice) + ".") + "\n" +
          html_tag("p", "Lengths in " + markup_escaped(places_words(notice)) + ".", "note") + "\n";
  for (const NoticeSection& group : notice_sections(notice)) {
    std::string items;
    for (const PartChange* change : group.parts)
      items += tick(head_words(*change), part_lines(*change));
    body += section(group.heading + " (" + std::to_string(group.parts.size()) + ")", items);
  }
  std::string items;
  for (const StockNeed& need : notice.stock) items += tick(need_words(need));
  body += section(kNeedsHeading, items);
  items.clear();
  for (const BoughtChange& item : notice.bought) items += tick(bought_words(item));
  body += section("hardware and equipment", items);
  items.clear();
  if (notice.drawings) {
    for (const DrawingChange& drawing : *notice.drawings)
      items += tick(drawing_words(drawing) + ": " + drawing.path);
  } else {
    body += html_tag("p", "Drawings were not compared: one of the builds has none, or was made by "
                          "an older ribbay.", "note") + "\n";
  }
  body += section("drawings on the wall", items) +
          "<div class=\"signed\"><div>Done by, date</div><div>Checked by, date</div></div>\n";
  return html_page(title, kStyle, body);
}

}  // namespace ribbay::detail
