#include "scan/mesh.hpp"

namespace ribbay {

Box bounds(const ScanMesh& mesh) {
  Box box;
  for (const Vec3& p : mesh.points) box.add(p);
  return box;
}

}  // namespace ribbay
