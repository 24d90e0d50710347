#pragma once

#include "base/output_file.hpp"
#include "base/result.hpp"
#include "drawings/drawings.hpp"

#include <vector>

namespace ribbay {

/// Pages of labels to print on A4, or on Letter where the project shows inches, cut along the dashed
/// lines and stick on: one for
/// each piece that the shop makes, in the order of the marks. Each shows mark, which of the alike
/// pieces it is, module, title, stock, size as cut, id in letters and id as a QR code. The pages say
/// when a check failed.
std::vector<Drawing> label_pages(const Layout& layout, const DrawingOptions& options = {});

/// shop/labels.pdf; nothing when nothing is made. Fails as pdf_document() does.
Result<OutputFiles> label_files(const Layout& layout, const DrawingOptions& options = {});

}  // namespace ribbay
