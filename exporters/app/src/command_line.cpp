#include "command_line.hpp"

#include "base/text.hpp"
#include "starter/starter.hpp"
#include "survey/blanks.hpp"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <map>

namespace ribbay::detail {

namespace {

constexpr const char* kVersion = "ribbay " RIBBAY_VERSION;
constexpr int kMostJobs = 256;

const std::map<std::string, Product>& products() {
  static const std::map<std::string, Product> names = {{"step", Product::step},
                                                       {"mesh", Product::mesh},
                                                       {"drawings", Product::drawings},
                                                       {"bench", Product::bench},
                                                       {"templates", Product::templates},
                                                       {"pictures", Product::pictures},
                                                       {"tables", Product::tables},
                                                       {"report", Product::report}};
  return names;
}

std::vector<std::string> product_names() {
  std::vector<std::string> names;
  for (const auto& [name, product] : products()) names.push_back(name);
  return names;
}

CLI::App* add_command(CLI::App& program, const std::string& name, const std::string& meaning) {
  CLI::App* command = program.add_subcommand(name, meaning);
  command->set_version_flag("--version", kVersion, "Print the version and exit");
  return command;
}

void add_settings(CLI::App& app, Command& command) {
  app.add_option("--set", command.settings,
                 "Set a value: galley.depth=520mm wins over every file; may be repeated")
      ->type_name("PATH=VALUE")
      ->expected(1)
      ->allow_extra_args(false)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
}

void add_project(CLI::App& app, Command& command) {
  app.add_option("FILE", command.file, "The project file")->required();
  add_settings(app, command);
  app.add_option("--jobs", command.jobs, "Threads to use (default: one per core)")
      ->type_name("N")
      ->check(CLI::Range(1, kMostJobs));
}

void add_common_options(CLI::App& app, Command& command) {
  add_project(app, command);
  app.add_flag("--json", command.json, "Print the report as JSON instead of words");
  app.add_flag("--quiet", command.quiet, "Print findings only");
  app.add_flag("--strict", command.strict, "Exit with 1 when a check could not be proven");
}

void add_build(CLI::App& program, Command& command, std::vector<std::string>& only) {
  CLI::App* app = add_command(program, "build", "Lay out, check and export everything");
  add_common_options(*app, command);
  app->add_option("--out", command.out, "Output folder (default: outputs/NAME)")->type_name("DIR");
  app->add_option("--only", only,
                  "Make only these: step, mesh, drawings, bench, templates, pictures, tables, report; the rest\n"
                  "is carried over")
      ->type_name("WHAT,...")
      ->delimiter(',')
      ->expected(1)
      ->allow_extra_args(false)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)
      ->check(CLI::IsMember(product_names()).description(""));
  app->add_option("--paper", command.paper, "Paper of the pages for the bench: A4 or Letter (default: A4)")
      ->type_name("SIZE")
      ->transform(CLI::IsMember(std::vector<std::string>{"A4", "Letter"}, CLI::ignore_case).description(""));
  app->add_option("--template-paper", command.template_paper,
                  "Paper of templates at true size: A4, A3 or Letter (default: as --paper)")
      ->type_name("SIZE")
      ->transform(CLI::IsMember(std::vector<std::string>{"A4", "A3", "Letter"}, CLI::ignore_case)
                  .description(""));
  app->add_option(
         "--words", command.language,
         "A file of what drawings and pages say, in another language (see explain --words)")
      ->type_name("FILE");
  app->add_option("--since", command.since,
                  "The output folder of an earlier build: also write what has changed, to\n"
                  "shop/changes.html, changes.txt and changes.csv")
      ->type_name("DIR");
  app->callback([&command, &only] {
    command.verb = Verb::build;
    for (const std::string& name : only) command.only.push_back(products().at(name));
  });
}

void add_check(CLI::App& program, Command& command) {
  CLI::App* app =
      add_command(program, "check", "Lay out and check; print the findings, write nothing");
  add_common_options(*app, command);
  app->callback([&command] { command.verb = Verb::check; });
}

void add_size(CLI::App& program, Command& command) {
  CLI::App* app = add_command(
      program, "size", "Find the smallest or largest value for which the checks pass");
  add_project(*app, command);
  app->add_option("--value", command.value, "The value to find: galley.depth, lining")
      ->type_name("PATH")
      ->required();
  app->add_option("--from", command.from, "Least value to try: 30mm")
      ->type_name("QUANTITY")
      ->required();
  app->add_option("--to", command.to, "Largest value to try")->type_name("QUANTITY")->required();
  app->add_option("--step", command.step, "Of the first scan (default: about 60 values)")
      ->type_name("QUANTITY");
  app->add_flag("--largest", command.largest, "Find the largest that passes, not the smallest");
  app->add_option("--check", command.checks,
                  "What must pass: a module, a part, a drawer or door, or the code of a finding or\n"
                  "its beginning (clearance); may be repeated (default: everything)")
      ->type_name("WHAT")
      ->expected(1)
      ->allow_extra_args(false)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  app->add_flag("--json", command.json, "Print the answer as JSON instead of words");
  app->callback([&command] { command.verb = Verb::size; });
}

void add_vans(CLI::App& program, Command& command) {
  CLI::App* app = add_command(
      program, "vans", "Lay one project out in several vans and compare what passes and changes");
  add_project(*app, command);
  app->add_option("VEHICLE", command.vehicles, "Vehicle files; the project's own comes first")
      ->required();
  app->add_option("--out", command.out, "Also write the tables here: vans.csv, van_parts.csv, vans.html")
      ->type_name("DIR");
  app->add_flag("--strict", command.strict, "Exit with 1 when a check could not be proven");
  app->callback([&command] { command.verb = Verb::vans; });
}

void add_changes(CLI::App& program, Command& command) {
  CLI::App* app = add_command(
      program, "changes",
      "Tell which parts differ between two builds, and which old parts still serve");
  app->add_option("OLD", command.words[0],
                  "The output folder of a build, or a project file: as it is laid out now")
      ->required();
  app->add_option("NEW", command.words[1], "The same; --set counts for this one")->required();
  add_settings(*app, command);
  app->add_option("--jobs", command.jobs, "Threads to use (default: one per core)")
      ->type_name("N")
      ->check(CLI::Range(1, kMostJobs));
  app->add_flag("--json", command.json, "Print the notice as JSON instead of words");
  app->add_option("--out", command.out,
                  "Also write the notice here: changes.html to print and tick off, changes.csv,\n"
                  "changes.txt")
      ->type_name("DIR");
  app->callback([&command] { command.verb = Verb::changes; });
}

void add_explain(CLI::App& program, Command& command) {
  CLI::App* app = add_command(program, "explain",
                              "Tell what may be written, or where a value of a project comes from");
  app->add_option("WHAT", command.words[0],
                  "A kind (rack, station, ...), or a value of a project (rack.width).\n"
                  "Nothing: list the kinds");
  app->add_option("FILE", command.words[1],
                  "The project file, before or after the value (default: the one in this folder)");
  add_settings(*app, command);
  app->add_flag("--json", command.json, "Print where the value comes from as JSON");
  app->add_flag("--markdown", command.markdown, "Print the whole parameter reference");
  app->add_flag("--words", command.to_translate,
                "Print what drawings and pages say, as a file to translate");
  app->add_option("--json-schema", command.json_schema,
                  "Print a JSON Schema for editors: of project files or of vehicle files")
      ->type_name("project|vehicle")
      ->check(CLI::IsMember({"project", "vehicle"}).description(""));
  app->callback([&command] { command.verb = Verb::explain; });
}

void add_new(CLI::App& program, Command& command) {
  CLI::App* app =
      add_command(program, "new", "Write a folder with a filled project that builds at once");
  app->add_option("NAME", command.name, "Its name: small letters, digits and _")->required();
  app->add_option("--vehicle", command.vehicle, "The sample van to start from")
      ->type_name(join(sample_vehicles(), "|"))
      ->default_str("long_high")
      ->check(CLI::IsMember(sample_vehicles()).description(""));
  app->add_option("--unit", command.unit, "What its sizes are written in")
      ->type_name("mm|in")
      ->default_str("mm")
      ->check(CLI::IsMember({"mm", "in"}).description(""));
  app->callback([&command] { command.verb = Verb::make_new; });
}

void add_survey(CLI::App& program, Command& command) {
  CLI::App* app = add_command(program, "survey",
                              "Write a form for measuring a van, or check one that is filled in");
  app->add_option("FILE", command.file, "A filled survey.toml or any vehicle file to check");
  app->add_option("--out", command.out, "Folder for the form (default: survey)")->type_name("DIR");
  app->add_option("--paper", command.paper, "A4 or Letter (default: A4)")
      ->type_name("SIZE")
      ->transform(CLI::IsMember(std::vector<std::string>{"A4", "Letter"}, CLI::ignore_case).description(""));
  app->add_option("--stations", command.stations, "Cross-sections to measure (default: 5)")
      ->type_name("N")
      ->check(CLI::Range(kLeastStations, kMostStations).description(""));
  app->add_option("--heights", command.heights, "Heights of each, the floor included (default: 10)")
      ->type_name("N")
      ->check(CLI::Range(kLeastHeights, kMostHeights).description(""));
  app->add_option("--unit", command.unit, "Print lengths in mm or in (default: mm)")
      ->type_name("UNIT")
      ->check(CLI::IsMember(std::vector<std::string>{"mm", "in"}).description(""));
  app->callback([&command] { command.verb = Verb::survey; });
}

void add_cut(CLI::App& program, Command& command) {
  CLI::App* app = add_command(program, "cut",
                              "Plan how to cut any list of pieces from bars or sheets, with proof");
  app->add_option("PIECES", command.file,
                  "Table of pieces (CSV): label,length,quantity for bars;\n"
                  "label,length,width,quantity,grain for sheets; stock, where a piece needs one")
      ->required();
  app->add_option("--stock", command.stock,
                  "Table of what there is (CSV): stock,length,quantity,price; sheets also width.\n"
                  "Empty quantity: as many as needed")
      ->type_name("FILE")
      ->required();
  app->add_option("--kerf", command.kerf, "Width of a saw cut: 3mm (default: 0)")
      ->type_name("LENGTH");
  app->add_option("--trim", command.trim, "Taken off each end or edge (default: 0)")
      ->type_name("LENGTH");
  app->add_option("--clamp", command.clamp,
                  "Bars: shortest rest that the saw can hold at the last cut (default: 0)")
      ->type_name("LENGTH");
  app->add_flag("--three-stages", command.three_stages,
                "Sheets: strips, then across, then once more, as panel saws cut");
  app->add_option("--unit", command.unit, "Print lengths in mm or in (default: mm)")
      ->type_name("UNIT")
      ->check(CLI::IsMember(std::vector<std::string>{"mm", "in"}).description(""));
  app->add_flag("--json", command.json, "Print the plan as JSON instead of tables");
  app->callback([&command] { command.verb = Verb::cut; });
}

/// A name that was written in several words: "explain station rear van.toml".
std::string name_in_words(const std::vector<std::string>& arguments) {
  std::vector<std::string> words;
  for (const std::string& word : std::span(arguments).subspan(1)) {
    if (!word.starts_with('-') && !word.ends_with(".toml")) words.push_back(word);
  }
  return "explain takes one name and one project file. What a table may hold: ribbay explain " +
         words.front() + ". A value of a module: ribbay explain " + join(words, ".") +
         " FILE; a fact of the van: ribbay explain vehicle." + join(words, ".") + ".x FILE";
}

/// The first option of the command that is given and says nothing.
const CLI::Option* empty_option(const CLI::App& command) {
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional()) continue;  // files and names have messages of their own
    for (const std::string& text : option->results()) {
      if (text.find_first_not_of(" \t") == std::string::npos) return option;
    }
  }
  return nullptr;
}

std::string unknown_command(const CLI::App& program, const std::string& word) {
  std::vector<std::string> names;
  for (const CLI::App* command : program.get_subcommands({})) names.push_back(command->get_name());
  const std::string near = nearest(word, names);
  return "there is no command \"" + word + "\"" +
         (near.empty() ? ". There are: " + join(names, ", ") : "; did you mean " + near + "?");
}

}  // namespace

std::variant<Command, Reply> read_command_line(const std::vector<std::string>& arguments) {
  Command command;
  std::vector<std::string> only;
  CLI::App program(
      "Describes camper-van modules once, proves that they fit, and hands over files and drawings.",
      "ribbay");
  program.set_version_flag("--version", kVersion, "Print the version and exit");
  program.require_subcommand(1);
  program.footer(
      "Examples:\n"
      "  ribbay new field_van --vehicle long_mid --unit in\n"
      "  ribbay build field_van/field_van.toml\n"
      "  ribbay check field_van/field_van.toml --set galley.depth=520mm\n"
      "  ribbay size field_van/field_van.toml --value spacer --from 0mm --to 100mm\n"
      "  ribbay vans field_van/field_van.toml other_van.toml third_van.toml\n"
      "  ribbay changes outputs/field_van field_van/field_van.toml\n"
      "  ribbay explain rack\n"
      "  ribbay explain rack.width field_van/field_van.toml\n"
      "  ribbay cut pieces.csv --stock stock.csv --kerf 3mm --trim 10mm\n\n"
      "Exit codes: 0 nothing wrong, 1 a check failed, 2 the input is wrong, 3 the machine failed.");
  add_build(program, command, only);
  add_check(program, command);
  add_size(program, command);
  add_vans(program, command);
  add_changes(program, command);
  add_explain(program, command);
  add_new(program, command);
  add_survey(program, command);
  add_cut(program, command);

  try {
    // The library wants them last first.
    program.parse(std::vector<std::string>(arguments.rbegin(), arguments.rend()));
    const CLI::App& chosen = *program.get_subcommands().front();
    if (const CLI::Option* empty = empty_option(chosen)) {
      return Reply{"ribbay: " + empty->get_name() +
                       " is empty; write what it stands for, or leave it out\nTry: ribbay " +
                       chosen.get_name() + " --help\n",
                   true};
    }
  } catch (const CLI::CallForHelp&) {
    const auto chosen = program.get_subcommands();
    return Reply{chosen.empty() ? program.help() : chosen.front()->help("ribbay"), false};
  } catch (const CLI::CallForVersion&) {
    return Reply{std::string(kVersion) + "\n", false};
  } catch (const CLI::ParseError& error) {
    if (arguments.empty()) return Reply{program.help(), true};
    const auto chosen = program.get_subcommands();
    std::string text = chosen.empty() ? unknown_command(program, arguments.front()) : error.what();
    const bool extra = dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr;
    if (extra && arguments.front() == "explain") text = name_in_words(arguments);
    return Reply{"ribbay: " + text + "\nTry: ribbay " +
                     (chosen.empty() ? "" : chosen.front()->get_name() + " ") + "--help\n",
                 true};
  }
  return command;
}

}  // namespace ribbay::detail
