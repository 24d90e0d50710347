#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace ribbay::detail {

/// Groups of output files that `--only` can name.
enum class Product { step, mesh, drawings, tables, report };

enum class Verb { build, check, explain };

/// A command line that makes sense.
struct Command {
  Verb verb = Verb::build;
  std::string file;                   ///< of build and check
  std::string kind;                   ///< of explain; empty: list the kinds
  std::vector<std::string> settings;  ///< --set, in order
  std::string out;                    ///< empty: outputs/NAME
  std::vector<Product> only;          ///< empty: everything
  bool json = false;
  bool quiet = false;
  bool strict = false;
  std::optional<int> jobs;
};

/// Text to print instead of doing anything: help, version, or what is wrong with the command line.
struct Reply {
  std::string text;
  bool wrong = false;
};

std::variant<Command, Reply> read_command_line(const std::vector<std::string>& arguments);

}  // namespace ribbay::detail
