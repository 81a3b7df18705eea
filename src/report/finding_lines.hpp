// Paragraphs in reading order, kept to a page.
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace rimload {

/// Collects paragraphs and breaks them into lines; what matters least goes when the page is full.
class FindingLines {
 public:
  static constexpr std::size_t max_lines = 25;
  static constexpr std::size_t max_columns = 100;  ///< bytes; the words are ASCII
  static constexpr int always = 0;                 ///< priority of what is never left out

  explicit FindingLines(std::size_t most_lines = max_lines, std::string rest_in = "result.json")
      : most_lines_(most_lines), rest_in_(std::move(rest_in)) {}

  /// @param priority the larger, the sooner a paragraph is left out; of equals the later one. An
  /// empty paragraph is none.
  void add(int priority, const std::string& paragraph);
  /// At most so many lines as long as the paragraphs of priority `always` leave room; says so when
  /// something was left out.
  [[nodiscard]] std::string text() const;

 private:
  struct Paragraph {
    int priority;
    std::vector<std::string> lines;
  };
  std::size_t most_lines_;
  std::string rest_in_;  ///< the file that holds what is left out
  std::vector<Paragraph> paragraphs_;
};

}  // namespace rimload
