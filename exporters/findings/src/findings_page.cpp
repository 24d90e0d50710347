#include "findings/findings_page.hpp"

#include "base/markup.hpp"
#include "base/messages.hpp"
#include "drawings/finding_picture.hpp"
#include "tables/html.hpp"

#include <algorithm>

namespace ribbay {

namespace {

constexpr std::size_t kMostPictures = 200;

constexpr const char* kStyle = R"(
body { font: 15px/1.45 sans-serif; color: #1c2024; margin: 2rem auto; max-width: 56rem; padding: 0 1rem; }
h1 { font-size: 1.4rem; } section { border-top: 1px solid #b8bec4; padding: .8rem 0; }
.fail { background: #f8dfdc; } .warn { background: #faf0d2; } .fail, .warn, .note { padding: .1rem .4rem; }
.where { color: #555c63; font-size: .87em; } .mend { margin: .4rem 0; }
img { width: 100%; border: 1px solid #d8dcdf; margin-top: .5rem; }
@media print { body { margin: 0; max-width: none; } section { break-inside: avoid; } }
)";

std::string two_digits(std::size_t n) {
  return (n < 10 ? "0" : "") + std::to_string(n);
}

std::string kind_of(const Finding& finding) {
  const bool error = finding.severity == Severity::error;
  const std::string open = finding.status == Status::not_proven ? "not proven" : "";
  if (error) return html_tag("span", open.empty() ? "error" : open, "fail");
  if (finding.severity == Severity::warning)
    return html_tag("span", open.empty() ? "warning" : open, "warn");
  return html_tag("span", "note", "note");
}

std::string where_of(const Finding& finding) {
  if (!finding.place) return {};
  const std::string line =
      finding.place->line > 0 ? ":" + std::to_string(finding.place->line) : std::string();
  return " " + html_tag("span", markup_escaped(finding.place->file + line), "where");
}

}  // namespace

OutputFiles findings_files(const Layout& layout, const Findings& findings) {
  if (findings.empty()) return {};
  const LengthStyle show = layout.project.show;
  OutputFiles pictures;
  std::string body;
  for (const Finding& finding : findings) {
    std::string text = html_tag("p", kind_of(finding) + " " +
                                         markup_escaped(message_text(finding, show)) +
                                         where_of(finding));
    const std::string advice = advice_text(finding, show);
    if (!advice.empty()) text += "\n" + html_tag("p", "mend: " + markup_escaped(advice), "mend");
    if (finding.severity != Severity::note && pictures.size() < kMostPictures) {
      if (const auto drawing = finding_picture(layout, finding)) {
        const std::string name = two_digits(pictures.size() + 1) + ".svg";
        pictures.push_back({"findings/" + name, svg(*drawing), "picture of a " + finding.code});
        text += "\n<img src=\"" + name + "\" alt=\"" +
                markup_escaped(message_text(finding, show)) + "\">";
      }
    }
    body += html_tag("section", "\n" + text + "\n") + "\n";
  }
  const std::string title =
      markup_escaped(layout.project.title.empty() ? layout.project.name : layout.project.title) +
      ": what was found";
  std::string page = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" +
                     html_tag("title", title) + "\n<style>" + kStyle +
                     "</style>\n</head>\n<body>\n" + html_tag("h1", title) + "\n" + body;
  if (pictures.size() == kMostPictures)
    page += html_tag("p", "Only the first " + std::to_string(kMostPictures) + " have a picture.") +
            "\n";
  OutputFiles files{{"findings/findings.html", page + "</body>\n</html>\n",
                     "what was found, with a picture of each"}};
  std::ranges::move(pictures, std::back_inserter(files));
  return files;
}

}  // namespace ribbay
