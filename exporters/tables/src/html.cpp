#include "tables/html.hpp"

#include "base/markup.hpp"

namespace ribbay {

namespace {

constexpr const char* kPageStyle = R"(
body { font: 15px/1.45 sans-serif; color: #1c2024; margin: 2rem auto; max-width: 56rem; padding: 0 1rem; }
h1 { font-size: 1.5rem; margin-bottom: .2rem; } h2 { font-size: 1.1rem; margin-top: 1.6rem; }
table { border-collapse: collapse; width: 100%; }
th, td { border-bottom: 1px solid #c9ced3; padding: .25rem .5rem; text-align: left; }
td.number, th.number { text-align: right; white-space: nowrap; }
tr.sum td { border-top: 2px solid #1c2024; font-weight: bold; }
.warn { background: #faf0d2; padding: .4rem .6rem; } .note { color: #555c63; font-size: .87em; }
.signed { display: flex; gap: 3rem; margin-top: 3rem; break-inside: avoid; }
.signed div { flex: 1; border-top: 1px solid #1c2024; }
@media print { body { margin: 0; max-width: none; font-size: 12px; } table, figure { break-inside: avoid; } }
)";

}  // namespace

std::string html_tag(const std::string& name, const std::string& content,
                     const std::string& css_class) {
  const std::string attribute = css_class.empty() ? "" : " class=\"" + css_class + "\"";
  return "<" + name + attribute + ">" + content + "</" + name + ">";
}

std::string html_page(const std::string& title, const std::string& style, const std::string& body) {
  return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n" +
         html_tag("title", markup_escaped(title)) + "\n<style>" + kPageStyle + style +
         "</style>\n</head>\n<body>\n" + body + "</body>\n</html>\n";
}

}  // namespace ribbay
