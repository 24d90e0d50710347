#include "starter/starter.hpp"

#include "texts.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <regex>

namespace ribbay {

using namespace detail;

namespace {

/// Marks of the template: `<<name>>`, or `<<MILLIMETRES|INCHES>>`, of which the unit picks one.
std::string filled(std::string_view page, const std::map<std::string, std::string>& words,
                   bool inches) {
  std::string text;
  while (true) {
    const std::size_t open = page.find("<<");
    text += page.substr(0, open);
    if (open == std::string_view::npos) return text;
    const std::size_t close = page.find(">>", open);
    const std::string mark(page.substr(open + 2, close - open - 2));
    const std::size_t stroke = mark.find('|');
    text += stroke == std::string::npos ? words.at(mark)
            : inches                    ? mark.substr(stroke + 1)
                                        : mark.substr(0, stroke);
    page.remove_prefix(close + 2);
  }
}

/// "field_van" gives "Field van".
std::string title_of(std::string name) {
  std::ranges::replace(name, '_', ' ');
  name.front() -= 'a' - 'A';
  return name;
}

/// A length as a tape in inches shows it: to a sixteenth, small ones to a 64th.
std::string tape_text(double mm) {
  constexpr double kSixteenth = 25.4 / 16.0;
  constexpr double kSmall = 4.0 * kSixteenth;
  const double read = mm < kSmall && mm > -kSmall ? mm : std::round(mm / kSixteenth) * kSixteenth;
  std::string text = "\"";
  return text.append(length_text(read, LengthStyle::inches)).append(" in\"");
}

/// A vehicle file with its lengths in inches: those in quotes, and the lists of bare numbers.
std::string in_inches(const std::string& page) {
  static const std::regex quoted(R"re("(-?[0-9.]+) mm")re");
  static const std::regex list(R"re(= \[(-?[0-9.]+(?:, -?[0-9.]+)*)\])re");
  static const std::regex number(R"re(-?[0-9.]+)re");
  const auto replaced = [](const std::string& text, const std::regex& of, const auto& by) {
    std::string result;
    auto rest = text.begin();
    for (std::sregex_iterator each(text.begin(), text.end(), of), end; each != end; ++each) {
      result.append(rest, (*each)[0].first).append(by(*each));
      rest = (*each)[0].second;
    }
    return result.append(rest, text.end());
  };
  const auto length = [](const std::smatch& found) {
    return tape_text(std::stod(found[found.size() - 1]));
  };
  const auto lengths = [&](const std::smatch& found) {
    return "= [" + replaced(found[1].str(), number, length) + "]";
  };
  return replaced(replaced(page, list, lengths), quoted, length);
}

OutputFile sample_file(const std::string& from, const std::string& to, const std::string& what) {
  return {to, std::string(starter_text(from)), what};
}

}  // namespace

const std::vector<std::string>& sample_vehicles() {
  static const std::vector<std::string> names = {"short_low", "long_mid", "long_high"};
  return names;
}

std::string sample_vehicle(const std::string& name) {
  return std::string(starter_text("vehicles/" + name + ".toml"));
}

OutputFiles starter_project(const StarterOptions& options) {
  const bool inches = options.unit == LengthStyle::inches;
  const std::map<std::string, std::string> words = {
      {"name", options.name}, {"title", title_of(options.name)}, {"vehicle", options.vehicle}};
  OutputFiles files = {
      {options.name + ".toml", filled(starter_text("new/project.toml"), words, inches), "project"},
      {options.vehicle + ".toml",
       inches ? in_inches(sample_vehicle(options.vehicle)) : sample_vehicle(options.vehicle),
       "vehicle"},
      sample_file("equipment/equipment.toml", "equipment.toml", "equipment")};
  for (const char* stock : {"materials", "aluminium", "sheets", "planks", "hardware", "joints", "fittings",
                            "finishes"}) {
    const std::string file = "stock/" + std::string(stock) + ".toml";
    files.push_back(sample_file(file, file, "stock"));
  }
  return files;
}

}  // namespace ribbay
