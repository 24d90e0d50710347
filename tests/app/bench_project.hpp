#pragma once

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <string>

namespace ribbay {

/// A small project that builds, one setting a line, so that a row of the table can spoil one line.
inline std::string sound_project() {
  const std::string params = RIBBAY_SOURCE_DIR "/params/";
  return "format = 1\n"
         "include = [\"" +
         params + "stock/materials.toml\", \"" + params + "stock/aluminium.toml\", \"" + params +
         "stock/sheets.toml\", \"" + params +
         "stock/hardware.toml\"]\n"
         "\n"
         "[project]\n"
         "name = \"bench\"\n"
         "vehicle = \"" +
         params +
         "vehicles/long_high.toml\"\n"
         "\n"
         "[values]\n"
         "reach = \"500 mm\"\n"
         "other = \"reach\"\n"
         "\n"
         "[module.rack]\n"
         "kind = \"rack\"\n"
         "faces = \"rear\"\n"
         "profile = \"slotted_40\"\n"
         "bracket = \"bracket_40\"\n"
         "width = \"900 mm\"\n"
         "depth = \"reach\"\n"
         "height = \"800 mm\"\n"
         "levels = [\"0 mm\", \"400 mm\"]\n"
         "bays = [\"1 share\", \"1 share\"]\n"
         "place = { rear = \"800 mm\", middle = \"0 mm\", on = \"floor\" }\n";
}

inline std::string replaced(std::string text, const std::string& old, const std::string& fresh) {
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), fresh);
}

/// The sound project, its rack bolted to two joists.
inline std::string held_project() {
  return replaced(sound_project(), "place = { rear = \"800 mm\"",
                  "foot = \"foot_40\"\nfloor_bolt = \"m8_40\"\nplace = { rear = \"895 mm\"");
}

/// Writes `text` as project.toml in a folder and returns its path.
inline std::string write_project(const std::filesystem::path& folder, const std::string& text) {
  std::filesystem::create_directories(folder);
  const std::filesystem::path file = folder / "project.toml";
  std::ofstream(file, std::ios::binary) << text;
  return file.string();
}

}  // namespace ribbay
