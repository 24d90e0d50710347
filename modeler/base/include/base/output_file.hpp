#pragma once

#include <string>
#include <vector>

namespace ribbay {

/// One file that an exporter made, still in memory. The app alone writes to disk.
struct OutputFile {
  std::string path;   ///< below the output folder, with '/' between: "drawings/010-rack.svg"
  std::string bytes;
  std::string what;   ///< one line for the manifest: "assembly drawing of rack"
};

using OutputFiles = std::vector<OutputFile>;

}  // namespace ribbay
