#include "promises.hpp"

#include "base/messages.hpp"

#include <cstdio>
#include <cstdlib>
#include <string>

namespace ribbay {

void promise(bool kept, const char* what) {
  if (kept) return;
  std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

void check_findings(const Findings& findings, std::size_t most) {
  promise(findings.size() <= most, "findings are limited");
  for (const Finding& finding : findings) {
    const bool words = !message_text(finding, LengthStyle::inches).ends_with('?');
    promise(words, "every finding has its words");  // ? stands for a fact that is missing
    promise(!finding_text(finding, LengthStyle::inches).empty(), "every finding can be printed");
    promise(finding.place.has_value(), "every fault of the input has a place");
    promise(finding.place->line >= 0 && finding.place->column >= 0, "which is one");
  }
}

}  // namespace ribbay
