#include "reread.hpp"

#include <map>

namespace ribbay::detail {

ReadFile reader_of(const Inputs& inputs) {
  std::map<std::string, std::string> files;
  for (const Document* document : {&inputs.project, &inputs.vehicle}) {
    for (const InputFile& file : document->inputs) files.emplace(file.path, file.bytes);
  }
  return [files = std::move(files)](const std::string& path) -> Result<std::string> {
    const auto found = files.find(path);
    return found != files.end() ? Result<std::string>(found->second) : read_file(path);
  };
}

}  // namespace ribbay::detail
