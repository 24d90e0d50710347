#pragma once

#include "made_scan.hpp"
#include "scan_writers.hpp"

#include <cstring>
#include <string>
#include <vector>

/// Scans for the tests.
namespace ribbay::tests {

struct WrittenScan {
  std::string name;
  std::string bytes;
};

/// The mesh in every format that can be read; three of them in text as well.
inline std::vector<WrittenScan> all_formats(const ScanMesh& mesh, double scale) {
  return {{"scan.glb", glb_scan(mesh, scale)}, {"scan.obj", obj_scan(mesh, scale)},
          {"scan.ply", ply_scan(mesh, scale)}, {"text.ply", ply_text_scan(mesh, scale)},
          {"scan.stl", stl_scan(mesh, scale)}, {"text.stl", stl_text_scan(mesh, scale)}};
}

inline std::size_t little_at(const std::string& bytes, std::size_t at) {
  std::uint32_t value = 0;
  std::memcpy(&value, bytes.data() + at, sizeof value);
  return value;
}

inline Vehicle long_mid() {
  const auto vehicle =
      read_vehicle(load_document(RIBBAY_SOURCE_DIR "/params/vehicles/long_mid.toml").value);
  return vehicle ? *vehicle : Vehicle{};
}

}  // namespace ribbay::tests
