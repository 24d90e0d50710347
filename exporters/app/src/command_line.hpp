#pragma once

#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ribbay::detail {

/// Groups of output files that `--only` can name.
enum class Product { step, mesh, drawings, bench, templates, pictures, tables, report };

enum class Verb { build, check, size, vans, changes, explain, make_new, survey, cut };

/// A command line that makes sense.
struct Command {
  Verb verb = Verb::build;
  std::string file;                   ///< of build, check, size, vans, survey and cut
  std::array<std::string, 2> words;   ///< of explain: a kind, or a value and a project file;
                                      ///< of changes: the old build and the new one
  std::string name;                   ///< of new
  std::string vehicle;                ///< of new: a sample van
  std::string unit;                   ///< of new, survey and cut: "mm" or "in"
  std::string paper;                  ///< of survey and build: "A4" or "Letter"
  std::string template_paper;         ///< of build: "A4", "A3" or "Letter"; empty: as paper
  int stations = 5;                   ///< of survey
  int heights = 10;                   ///< of survey
  std::string stock;                  ///< of cut: the table of what it is cut from
  std::string kerf;                   ///< of cut, as written: "3mm"
  std::string trim;                   ///< of cut
  std::string clamp;                  ///< of cut
  bool three_stages = false;          ///< of cut
  std::string value;                  ///< of size: the value that is looked for
  std::string from;                   ///< of size, as written: "30 mm"
  std::string to;                     ///< of size
  std::string step;                   ///< of size; empty: what suits the range
  bool largest = false;               ///< of size
  std::vector<std::string> checks;    ///< of size: what must pass; empty: everything
  std::vector<std::string> vehicles;  ///< of vans: vehicle files
  std::vector<std::string> settings;  ///< --set, in order
  std::string out;                    ///< empty: outputs/NAME
  std::string language;               ///< of build: a file of the words of drawings; empty: English
  std::string since;                  ///< of build: an earlier output; empty: no change notice
  std::vector<Product> only;          ///< empty: everything
  bool json = false;
  bool quiet = false;
  bool strict = false;
  bool to_translate = false;  ///< explain the words of drawings as a file to translate
  bool markdown = false;    ///< explain everything as Markdown
  std::string json_schema;  ///< explain "project" or "vehicle" files as JSON Schema; empty: no
  std::optional<int> jobs;
};

/// Text to print instead of doing anything: help, version, or what is wrong with the command line.
struct Reply {
  std::string text;
  bool wrong = false;
};

std::variant<Command, Reply> read_command_line(const std::vector<std::string>& arguments);

}  // namespace ribbay::detail
