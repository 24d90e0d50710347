#pragma once

#include "app/file_calls.hpp"
#include "base/output_file.hpp"
#include "base/result.hpp"
#include "report/manifest.hpp"

#include <filesystem>
#include <optional>
#include <string>

namespace ribbay {

/// An output folder as it stands before a build.
struct OutputFolder {
  std::filesystem::path path;  ///< absolute, symbolic links resolved
  bool exists = false;
  std::optional<Manifest>
      manifest;  ///< of the build that is there; none when the folder is new or empty
};

/// Looks at the folder that the output of a command ("build", "vans") is to go to. First clears
/// away what killed runs left beside it. Fails with "output.not_ours" when something stands there
/// that this program did not write, with "output.of_another" when another command wrote it, and
/// with "output.not_written" when it cannot be looked at.
Result<OutputFolder> find_output(const std::string& folder, const std::string& command,
                                 FileCalls& calls);

/// Whether find_output() failed because of the folder that was named, not of the machine.
bool is_wrong_folder(const Findings& faults);

/// Whether a folder can be made where the output is to go, before there is any: makes one and takes
/// it away again. Fails with "output.not_written".
Findings try_output(const OutputFolder& folder, FileCalls& calls);

/// The bytes of a file of the build that is there; fails with "output.not_read".
Result<std::string> read_output(const OutputFolder& folder, const std::string& path);

/// Replaces what the folder holds by `files`, all or nothing. The new set is written to a folder
/// beside it, every file and folder is forced to disk, and the two are exchanged in one step; where
/// the file system cannot do that, by two renames, which the next find_output() completes if they
/// are interrupted. Files in the old folder that its manifest does not name are the builder's own
/// and move along.
///
/// Returns no findings on success. On failure the old output stands as it was, and the finding is
/// "output.not_written" or "output.not_kept" (a file of the builder's own that could not be moved
/// along). The one exception is "output.not_durable": the new set is in place and whole, but the
/// disk neither confirmed that nor let it be undone. A warning "output.leftover" means that all
/// went well and only the old set could not be removed.
Findings publish(const OutputFiles& files, const OutputFolder& folder, FileCalls& calls);

}  // namespace ribbay
