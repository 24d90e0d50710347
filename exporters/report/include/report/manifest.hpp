#pragma once

#include "base/output_file.hpp"
#include "base/result.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace ribbay {

/// The file that lists all others; an output folder without it is not ours.
inline constexpr std::string_view kManifestPath = "manifest.json";

struct ManifestEntry {
  std::string path;  ///< below the output folder, with '/' between
  std::string sha256;
  std::string what;
  bool stale = false;  ///< carried over from a build with other inputs
  std::string undated{};  ///< of a drawing: sha256 of it without its date; else empty
  friend bool operator==(const ManifestEntry&, const ManifestEntry&) = default;
};

/// What an output folder holds, and from what it was made.
struct Manifest {
  std::string made_from;             ///< digest over all inputs and settings
  std::string command = "build";     ///< that wrote it: another one never replaces it
  std::vector<ManifestEntry> files;  ///< sorted by path; the manifest itself is not listed
  friend bool operator==(const Manifest&, const Manifest&) = default;
};

/// The entry of a file.
ManifestEntry manifest_entry(const OutputFile& file);

/// manifest.json, sorted by path, as UTF-8 with a line feed at the end.
OutputFile manifest_file(Manifest manifest);

/// Reads what manifest_file() wrote. Fails with "output.manifest" when it is something else, is of
/// a newer format, or names a path that leaves the folder.
Result<Manifest> read_manifest(std::string_view bytes);

}  // namespace ribbay
