#pragma once

#include "base/text.hpp"
#include "vehicle/survey.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <string>
#include <vector>

/// Surveys written as a builder would, from vans whose true shape is known.
namespace surveys {

using namespace ribbay;

/// What was read at one cross-section.
struct Section {
  double x = 0.0;
  std::vector<double> left;
  std::vector<double> right;
  std::vector<double> full;  ///< empty: not measured
};

struct Survey {
  std::vector<double> heights;
  std::vector<Section> sections;  ///< called s1, s2, ...
  double uncertainty = 3.0;
  std::string more;  ///< further tables
};

inline std::string list(const std::vector<double>& values) {
  std::vector<std::string> words;
  for (const double value : values) words.push_back(rounded_text(value, 1));
  std::string text = "[";
  text += join(words, ", ");
  return text += "]";
}

inline std::string text_of(const Survey& survey) {
  std::string text = "format = 1\n[vehicle]\nheights = " + list(survey.heights) +
                     "\nuncertainty = " + number_text(survey.uncertainty) + "\n";
  int number = 0;
  for (const Section& s : survey.sections) {
    text += "[station.s" + std::to_string(++number) + "]\nx = " + number_text(s.x) +
            "\nleft = " + list(s.left) + "\nright = " + list(s.right) + "\n";
    if (!s.full.empty()) text += "full = " + list(s.full) + "\n";
  }
  return text + survey.more;
}

inline Document document_of(const std::string& text) {
  Built<Document> built = load_document(
      "survey.toml", {}, [&](const std::string&) { return Result<std::string>(text); });
  for (const Finding& finding : built.findings) UNSCOPED_INFO(finding.code);
  REQUIRE(built.findings.empty());
  return std::move(built.value);
}

inline Findings doubts(const std::string& text) {
  const Document document = document_of(text);
  const Result<Vehicle> vehicle = read_vehicle(document);
  if (!vehicle) {
    for (const Finding& finding : vehicle.error()) UNSCOPED_INFO(finding.code);
  }
  REQUIRE(vehicle);
  return check_survey(*vehicle, document);
}
inline Findings doubts(const Survey& survey) {
  return doubts(text_of(survey));
}

/// The true shape of a van: a section that narrows towards both ends along one parabola, and a
/// right side that differs from the left by a constant.
struct TrueVan {
  double half_width = 900.0;
  double height = 1900.0;
  double rear_taper = 12.0;  ///< by which it is narrower at the rear end than where it is widest
  double front_taper = 6.0;
  double lopsided = 0.0;  ///< left minus right
  double length = 3700.0;

  /// Half width at share z of the height, seen at x: walls that bulge a little, and a round roof.
  double at(double x, double z, int side) const {
    const double t = x / length;
    const double widest = 0.6;
    const double taper = t < widest ? rear_taper * std::pow(1.0 - t / widest, 2)
                                    : front_taper * std::pow((t - widest) / (1.0 - widest), 2);
    const double bulge = 1.0 - 0.05 * std::pow((z - 0.3) / 0.7, 2);
    const double roof = z < 0.75 ? 1.0 : std::sqrt(1.0 - 0.96 * std::pow((z - 0.75) / 0.25, 2));
    return half_width * bulge * roof - taper + (side == 0 ? 0.5 : -0.5) * lopsided;
  }
};

using Random = std::mt19937;
inline double uniform(Random& random, double lo, double hi) {
  // Not std::uniform_real_distribution, which differs between libraries.
  return lo + (hi - lo) * static_cast<double>(random()) / 4294967295.0;
}

/// A van drawn at random within what delivery vans look like (common practice, no source).
inline TrueVan any_van(Random& random) {
  return {uniform(random, 700, 1000), uniform(random, 1300, 2100), uniform(random, 0, 25),
          uniform(random, 0, 15),     uniform(random, -4, 4),      uniform(random, 2200, 4300)};
}

/// A survey of it in which each reading is off by at most the uncertainty, read to the mm.
inline Survey measured(const TrueVan& van, Random& random, int stations, int heights,
                       double uncertainty) {
  Survey survey;
  survey.uncertainty = uncertainty;
  for (int j = 0; j < heights; ++j)
    survey.heights.push_back(std::round(van.height * j / (heights - 1)));
  const auto read = [&](double truth) {
    return std::round(truth + uniform(random, -1.0, 1.0) * (uncertainty - 0.5));
  };
  for (int i = 0; i < stations; ++i) {
    Section s;
    s.x = std::round(van.length *
                     (i + (i > 0 && i + 1 < stations ? uniform(random, -0.25, 0.25) : 0)) /
                     (stations - 1));
    for (const double z : survey.heights) {
      const double left = van.at(s.x, z / van.height, 0);
      const double right = van.at(s.x, z / van.height, 1);
      s.left.push_back(read(left));
      s.right.push_back(read(right));
      s.full.push_back(read(left + right));
    }
    survey.sections.push_back(std::move(s));
  }
  return survey;
}

}  // namespace surveys
