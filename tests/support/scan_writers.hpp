#pragma once

#include "base/text.hpp"
#include "scan/mesh.hpp"

#include <cstdint>
#include <string>

/// Scan files of the four formats, written from their published descriptions and sharing no code
/// with the reader. Lengths are those of the mesh times `scale`.
namespace ribbay::tests {

template <class T>
void put(std::string& bytes, T value) {
  bytes.append(reinterpret_cast<const char*>(&value), sizeof value);
}

inline void put_point(std::string& bytes, Vec3 p, double scale) {
  for (const double c : {p.x, p.y, p.z}) put(bytes, static_cast<float>(c * scale));
}

inline std::string point_text(Vec3 p, double scale) {
  const auto text = [&](double c) { return number_text(static_cast<float>(c * scale)); };
  return text(p.x) + " " + text(p.y) + " " + text(p.z);
}

/// A glTF description and its bytes as a binary glTF file (Khronos glTF 2.0, 4.4).
inline std::string glb_of(std::string json, std::string bytes) {
  while (json.size() % 4 != 0) json += ' ';
  while (bytes.size() % 4 != 0) bytes += '\0';
  std::string file = "glTF";
  put<std::uint32_t>(file, 2);
  put(file, static_cast<std::uint32_t>(12 + 8 + json.size() + 8 + bytes.size()));
  put(file, static_cast<std::uint32_t>(json.size()));
  file += "JSON" + json;
  put(file, static_cast<std::uint32_t>(bytes.size()));
  file += "BIN";
  file += '\0';
  return file + bytes;
}

/// One mesh, 16-bit indices where they suffice.
inline std::string glb_scan(const ScanMesh& mesh, double scale) {
  std::string bytes;
  for (const Vec3& p : mesh.points) put_point(bytes, p, scale);
  const std::size_t points = bytes.size();
  const bool small = mesh.points.size() < 65535;
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    for (const std::uint32_t i : t) {
      small ? put(bytes, static_cast<std::uint16_t>(i)) : put(bytes, i);
    }
  }
  const auto n = [](std::size_t value) { return std::to_string(value); };
  const Box box = bounds(mesh);
  const auto corner = [&](Vec3 p) {
    std::string text = point_text(p, scale);
    for (char& c : text) c = c == ' ' ? ',' : c;
    return "[" + text + "]";
  };
  const std::string json =
      R"({"asset":{"version":"2.0"},"scene":0,"scenes":[{"nodes":[0]}],"nodes":[{"mesh":0}],)"
      R"("meshes":[{"primitives":[{"attributes":{"POSITION":0},"indices":1}]}],"accessors":[)"
      R"({"bufferView":0,"componentType":5126,"type":"VEC3","count":)" +
      n(mesh.points.size()) + R"(,"min":)" + corner(box.lo) + R"(,"max":)" + corner(box.hi) +
      R"(},{"bufferView":1,"type":"SCALAR","componentType":)" + (small ? "5123" : "5125") +
      R"(,"count":)" + n(mesh.triangles.size() * 3) +
      R"(}],"bufferViews":[{"buffer":0,"byteLength":)" + n(points) +
      R"(},{"buffer":0,"byteOffset":)" + n(points) + R"(,"byteLength":)" +
      n(bytes.size() - points) + R"(}],"buffers":[{"byteLength":)" + n(bytes.size()) + "}]}";
  return glb_of(json, bytes);
}

inline std::string obj_scan(const ScanMesh& mesh, double scale) {
  std::string text = "# a scan\nmtllib ../elsewhere.mtl\no room\n";
  for (const Vec3& p : mesh.points) text += "v " + point_text(p, scale) + "\n";
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    text += "f";
    for (const std::uint32_t i : t) text.append(" ").append(std::to_string(i + 1));
    text += "\n";
  }
  return text;
}

inline std::string ply_head(const std::string& format, std::size_t points, std::size_t faces) {
  return "ply\nformat " + format + " 1.0\ncomment a scan\nelement vertex " +
         std::to_string(points) +
         "\nproperty float x\nproperty float y\nproperty float z\nelement face " +
         std::to_string(faces) + "\nproperty list uchar int vertex_indices\nend_header\n";
}

inline std::string ply_scan(const ScanMesh& mesh, double scale) {
  std::string bytes = ply_head("binary_little_endian", mesh.points.size(), mesh.triangles.size());
  for (const Vec3& p : mesh.points) put_point(bytes, p, scale);
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    bytes += '\3';
    for (const std::uint32_t i : t) put(bytes, i);
  }
  return bytes;
}

inline std::string ply_text_scan(const ScanMesh& mesh, double scale) {
  std::string text = ply_head("ascii", mesh.points.size(), mesh.triangles.size());
  for (const Vec3& p : mesh.points) text += point_text(p, scale) + "\n";
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    text += "3";
    for (const std::uint32_t i : t) text.append(" ").append(std::to_string(i));
    text += "\n";
  }
  return text;
}

inline std::string stl_scan(const ScanMesh& mesh, double scale) {
  std::string bytes(80, ' ');
  put(bytes, static_cast<std::uint32_t>(mesh.triangles.size()));
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    put_point(bytes, {}, 1.0);
    for (const Vec3& p : mesh.corners(t)) put_point(bytes, p, scale);
    put<std::uint16_t>(bytes, 0);
  }
  return bytes;
}

inline std::string stl_text_scan(const ScanMesh& mesh, double scale) {
  std::string text = "solid scan\n";
  for (const ScanMesh::Triangle& t : mesh.triangles) {
    text += "facet normal 0 0 0\nouter loop\n";
    for (const Vec3& p : mesh.corners(t)) text += "vertex " + point_text(p, scale) + "\n";
    text += "endloop\nendfacet\n";
  }
  return text + "endsolid scan\n";
}

}  // namespace ribbay::tests
