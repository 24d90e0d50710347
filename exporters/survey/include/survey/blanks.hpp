#pragma once

#include "base/paper.hpp"
#include "base/text.hpp"

#include <string>
#include <vector>

namespace ribbay {

/// What the builder asks for before going out to the van.
struct SurveyOptions {
  Paper paper = Paper::a4;
  int stations = 5;  ///< kLeastStations..kMostStations
  int heights = 10;  ///< of each station, the floor included; kLeastHeights..kMostHeights
  LengthStyle unit = LengthStyle::millimetres;
};
inline constexpr int kLeastStations = 2;
inline constexpr int kMostStations = 12;
inline constexpr int kLeastHeights = 3;
inline constexpr int kMostHeights = 20;

/// One number to measure: it has the same number on the paper and in the file.
struct Blank {
  int number = 0;
  std::string label;  ///< "middle of the first one"
};

/// One line of a table of the file. Without blanks `fixed` is its value.
struct BlankField {
  std::string key;
  bool list = false;
  std::vector<Blank> blanks;
  std::string fixed = {};  ///< a TOML value; in a list it stands in front of the blanks
};

/// One table of the file, one group on the paper.
struct BlankTable {
  std::string name;  ///< "station.s1"
  std::string title;
  std::string remark = {};
  std::vector<BlankField> fields;
  bool in_list = false;  ///< one of several of its name: "[[floor.layers]]"
};

/// Everything the form asks for, numbered from 1 in the order of the file.
std::vector<BlankTable> survey_blanks(const SurveyOptions& options);

/// A vehicle file with an empty text for each blank, and its number and meaning beside it.
std::string survey_file(const SurveyOptions& options);

}  // namespace ribbay
