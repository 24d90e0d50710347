#pragma once

#include "base/finding.hpp"
#include "base/output_file.hpp"
#include "layout/layout.hpp"

namespace ribbay {

/// What the checks found, to look at: "findings/findings.html" with the words, the advice and the
/// place of each, and beside it a picture of each that can be drawn, "findings/01.svg" and so on in
/// the order of `findings` (see finding_picture()). Notes have words and no picture. Of more than
/// 200 findings the further ones have none, and the page says so. Nothing when nothing was found.
OutputFiles findings_files(const Layout& layout, const Findings& findings);

}  // namespace ribbay
