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
section { border-top: 1px solid #b8bec4; padding: .8rem 0; break-inside: avoid; }
.fail { background: #f8dfdc; } .fail, .warn, .note { padding: .1rem .4rem; }
.where { color: #555c63; font-size: .87em; } .mend { margin: .4rem 0; }
img { width: 100%; border: 1px solid #d8dcdf; margin-top: .5rem; }
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
      (layout.project.title.empty() ? layout.project.name : layout.project.title) +
      ": what was found";
  body = html_tag("h1", markup_escaped(title)) + "\n" + body;
  if (pictures.size() == kMostPictures)
    body += html_tag("p", "Only the first " + std::to_string(kMostPictures) + " have a picture.") +
            "\n";
  OutputFiles files{{"findings/findings.html", html_page(title, kStyle, body),
                     "what was found, with a picture of each"}};
  std::ranges::move(pictures, std::back_inserter(files));
  return files;
}

}  // namespace ribbay
