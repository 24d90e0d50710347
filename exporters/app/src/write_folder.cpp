#include "write_folder.hpp"

#include "app/publish.hpp"
#include "base/messages.hpp"
#include "report/manifest.hpp"

namespace ribbay::detail {

ExitCode write_folder(const std::string& out, const std::string& maker, OutputFiles files,
                      LengthStyle show, const Surroundings& world) {
  const auto complain = [&](const Findings& faults) {
    for (const Finding& fault : faults)
      world.err << "ribbay: " << finding_text(fault, show) << "\n";
  };
  const Result<OutputFolder> folder = find_output(out, maker, world.files);
  if (!folder) {
    complain(folder.error());
    return is_wrong_folder(folder.error()) ? ExitCode::wrong_input : ExitCode::machine_failed;
  }
  Manifest manifest{.made_from = {}, .command = maker, .files = {}};
  for (const OutputFile& file : files) manifest.files.push_back(manifest_entry(file));
  files.push_back(manifest_file(std::move(manifest)));
  const Findings faults = publish(files, *folder, world.files);
  complain(faults);
  if (has_errors(faults)) return ExitCode::machine_failed;
  world.out << "\nfiles     " << out << " (" << files.size() << " files)\n";
  return ExitCode::nothing_wrong;
}

}  // namespace ribbay::detail
