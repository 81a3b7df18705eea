#include "report/finding_lines.hpp"

#include <algorithm>

namespace rimload {

void FindingLines::add(int priority, const std::string& paragraph) {
  std::vector<std::string> lines;
  std::string line;
  std::size_t start = 0;
  while (start < paragraph.size()) {
    const std::size_t end = std::min(paragraph.find(' ', start), paragraph.size());
    const std::string word = paragraph.substr(start, end - start);
    if (!line.empty() && line.size() + 1 + word.size() > max_columns) {
      lines.push_back(line);
      line = "  " + word;  // all but the first line are indented
    } else {
      line += (line.empty() ? "" : " ") + word;
    }
    start = end + 1;
  }
  if (!line.empty()) lines.push_back(line);
  if (lines.empty()) return;
  paragraphs_.push_back({priority, std::move(lines)});
}

std::string FindingLines::text() const {
  std::vector<Paragraph> kept = paragraphs_;
  bool left_out = false;
  const auto n_lines = [&] {
    std::size_t n = left_out ? 1 : 0;
    for (const Paragraph& each : kept) n += each.lines.size();
    return n;
  };
  while (n_lines() > most_lines_) {
    const auto least = std::max_element(
        kept.rbegin(), kept.rend(),
        [](const Paragraph& a, const Paragraph& b) { return a.priority < b.priority; });
    if (least == kept.rend() || least->priority == always) break;
    kept.erase(std::next(least).base());
    left_out = true;
  }
  std::string out;
  for (std::size_t k = 0; k < kept.size(); ++k) {
    const bool last = k + 1 == kept.size();
    if (last && left_out) out += "More is in " + rest_in_ + "; it had no room here.\n";
    for (const std::string& line : kept[k].lines) out += line + "\n";
  }
  return out;
}

}  // namespace rimload
