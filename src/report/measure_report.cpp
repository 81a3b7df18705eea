#include "report/measure_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "report/finding_cautions.hpp"
#include "report/finding_lines.hpp"

namespace rimload {

namespace {

const SealOutlook& outlook_of(const MeasuredFace& face, SealRegion region) {
  return region == SealRegion::over_nose ? face.over_nose : face.over_nose_and_mouth;
}

const char* words_for(SealRegion region) {
  return region == SealRegion::over_nose ? "a rim over the nose" : "a rim over nose and mouth";
}

const MeasureBand& band_of(const MeasureBands& bands, Measure measure) {
  return *std::find_if(bands.begin(), bands.end(),
                       [&](const MeasureBand& each) { return each.measure == measure; });
}

std::optional<double> given_mm(const MeasuredFace& face, Measure measure) {
  for (const FaceMeasurement& each : face.asked.taken) {
    if (each.measure == measure) return each.value_mm;
  }
  return std::nullopt;
}

// Of a normal spread, which is assumed.
double percentile(const MeasuredFace& face, Measure measure) {
  const MeasureBand& usual = band_of(face.before, measure);
  const double z = (band_of(face.bands, measure).likeliest_mm - usual.likeliest_mm) / usual.sd_mm;
  constexpr double percent = 100;
  return percent * 0.5 * std::erfc(-z / std::sqrt(2.0));
}

std::string ordinal(double value) {
  const int n = static_cast<int>(std::lround(value));
  if (n < 1) return "below the 1st";
  if (n > 99) return "above the 99th";
  const bool teen = n / 10 == 1;
  const char* ending = teen || n % 10 > 3 || n % 10 == 0 ? "th"
                       : n % 10 == 1                     ? "st"
                       : n % 10 == 2                     ? "nd"
                                                         : "rd";
  return fmt::format("{}{}", n, ending);
}

// The words without what stands in brackets after them.
std::string short_words(Measure measure) {
  const std::string_view words = rimload::words_for(measure);
  return std::string(words.substr(0, words.find(" (")));
}

std::string size_words(const MeasuredFace& face) {
  std::string out;
  for (const Measure each :
       {Measure::face_length, Measure::face_width, Measure::sellion_supramentale,
        Measure::nose_breadth, Measure::lip_length}) {
    const MeasureBand& band = band_of(face.bands, each);
    out += fmt::format("{}{} {:.0f} mm ({:.0f} to {:.0f}), {}", out.empty() ? "" : "; ",
                       short_words(each), band.likeliest_mm, band.low_mm, band.high_mm,
                       ordinal(percentile(face, each)));
  }
  return fmt::format("Size, with 80 % bands and percentile of {}: {}.", face.population, out);
}

std::string next_words(const MeasuredFace& face, SealRegion region) {
  const SealOutlook& outlook = outlook_of(face, region);
  const std::string now = fmt::format(
      "Skin under {} is known to within {:.1f} mm (root mean square; {:.1f} with nothing "
      "measured)",
      words_for(region), outlook.rms_mm, outlook.before_mm);
  if (outlook.next.empty()) return now + "; everything on the list is measured.";
  std::string out = fmt::format("{}. Next, measure {}: it leaves {:.1f} mm", now,
                                short_words(outlook.next[0].measure), outlook.next[0].rms_mm);
  for (std::size_t k = 1; k < std::min<std::size_t>(3, outlook.next.size()); ++k) {
    out += fmt::format("{} {} {:.1f}", k == 1 ? "; instead" : ",",
                       short_words(outlook.next[k].measure), outlook.next[k].rms_mm);
  }
  return out + ".";
}

std::string sweep_words(const MeasuredFace& face) {
  double widest = 0;
  Measure which = Measure::face_width;
  for (const Measure each : all_measures) {
    const auto [least, most] = std::minmax({band_of(face.swept[0], each).likeliest_mm,
                                            band_of(face.bands, each).likeliest_mm,
                                            band_of(face.swept[1], each).likeliest_mm});
    const double apart = most - least;
    if (apart <= widest) continue;
    widest = apart;
    which = each;
  }
  return fmt::format(
      "Correlations not published are assumed 0.25; from 0 to 0.5 they move no dimension by more "
      "than {:.1f} mm{}.",
      widest, widest > 0 ? fmt::format(" ({})", short_words(which)) : "");
}

std::string cell(const std::optional<double>& value) {
  return value ? fmt::format("{:.2f}", *value) : "";
}

std::string source_of(const MeasuredFace& face, Measure measure) {
  for (const PopulationDimension& each : face.published) {
    if (each.measure == measure) return each.source;
  }
  return "no published spread: follows from the others and the reference face, assumed";
}

}  // namespace

std::string measure_finding(const MeasuredFace& face, SealRegion region) {
  constexpr std::size_t most_lines = 15;
  constexpr std::size_t most_questions = 3;
  FindingLines out(most_lines, "measures.csv");
  out.add(FindingLines::always, face.face.title + ".");
  for (std::size_t k = 0; k < face.questions.size(); ++k) {
    if (k < most_questions) {
      out.add(FindingLines::always, "Look again: " + face.questions[k] + ".");
    }
  }
  if (face.questions.size() > most_questions) {
    out.add(FindingLines::always, fmt::format("{} more measurements are as odd; mend these first.",
                                              face.questions.size() - most_questions));
  }
  out.add(1, size_words(face));
  out.add(1, next_words(face, region));
  for (std::size_t k = 0; k < face.remarks.size(); ++k) {
    const bool last = k + 1 == face.remarks.size();
    out.add(face.face.child && last ? FindingLines::always : 3, face.remarks[k]);
  }
  out.add(2, sweep_words(face));
  out.add(FindingLines::always, standing_line());
  return out.text();
}

std::string measures_csv(const MeasuredFace& face, SealRegion region) {
  std::string out =
      "measure,given_mm,likeliest_mm,low_10_mm,high_90_mm,population_mean_mm,population_sd_mm,"
      "percentile,likeliest_correlation_0_mm,likeliest_correlation_0.5_mm,"
      "rim_skin_rms_if_measured_mm,source\n";
  const SealOutlook& outlook = outlook_of(face, region);
  for (const Measure each : measures_as_taken()) {
    const MeasureBand& band = band_of(face.bands, each);
    const MeasureBand& usual = band_of(face.before, each);
    std::optional<double> after;
    for (const NextMeasure& next : outlook.next) {
      if (next.measure == each) after = next.rms_mm;
    }
    out +=
        fmt::format("{},{},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.1f},{:.2f},{:.2f},{},\"{}\"\n",
                    name_of(each), cell(given_mm(face, each)), band.likeliest_mm, band.low_mm,
                    band.high_mm, usual.likeliest_mm, usual.sd_mm, percentile(face, each),
                    band_of(face.swept[0], each).likeliest_mm,
                    band_of(face.swept[1], each).likeliest_mm, cell(after), source_of(face, each));
  }
  return out;
}

std::string landmark_bands_csv(const MeasuredFace& face) {
  std::string out = "landmark,side,x_mm,y_mm,z_mm,sd_x_mm,sd_y_mm,sd_z_mm\n";
  for (std::size_t k = 0; k < face.face.landmarks.size(); ++k) {
    const Landmark& landmark = face.face.landmarks[k];
    if (landmark.side == Side::right) continue;
    const Vec3& at = landmark.position_face;
    const Vec3& sd = face.landmark_sd_mm[k];
    out += fmt::format("{},{},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f},{:.2f}\n", landmark.name,
                       name_of(landmark.side), at.x(), at.y(), at.z(), sd.x(), sd.y(), sd.z());
  }
  return out;
}

}  // namespace rimload
