#pragma once

#include "base/result.hpp"
#include "spec/document.hpp"

namespace ribbay {

/// Reads the files that `shape` of equipment names, so that read_catalogue() finds them among the
/// document's inputs. A file that cannot be read is reported at the line that names it.
Findings add_shape_files(Document& document, const ReadFile& read);

}  // namespace ribbay
