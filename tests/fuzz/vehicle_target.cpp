#include "promises.hpp"
#include "spec/document.hpp"
#include "targets.hpp"
#include "vehicle/vehicle.hpp"

#include <string>

namespace ribbay {

void fuzz_vehicle(std::string_view bytes) {
  const ReadFile read = [&](const std::string& path) -> Result<std::string> {
    if (path == "v.toml") return std::string(bytes);
    Finding missing = input_error("input.not_readable", {path, 0, 0, {}});
    missing.subjects = {path};
    return fail(std::move(missing));
  };
  const Built<Document> document = load_document("v.toml", {}, read);
  check_findings(document.findings, kMostOfReader);
  const Result<Vehicle> vehicle = read_vehicle(document.value);
  if (!vehicle) check_findings(vehicle.error(), kMostOfReader);
}

}  // namespace ribbay
