#include "report/settings_check.hpp"

#include "catch.hpp"
#include "units/units.hpp"

using namespace rimload;

namespace {

SettingsCheck checked(double expiratory, double inspiratory) {
  Settings settings;
  settings.bilevel = inspiratory > expiratory;
  settings.expiratory = units::from_cmh2o(expiratory);
  settings.inspiratory = units::from_cmh2o(inspiratory);
  return check_settings(settings);
}

}  // namespace

TEST_CASE("The rule taught sets alarms 1 cmH2O below and above: 5 gives 4, 10 gives 11") {
  const SettingsCheck check = checked(5, 10);
  CHECK(check.low_alarm_cmh2o == Approx(4));
  CHECK(check.high_alarm_cmh2o == Approx(11));
  CHECK(check.alarms.find("4 cmH2O, 1 below expiratory; high 11, 1 above inspiratory") !=
        std::string::npos);
  CHECK(check.alarms.find("common practice, no source") != std::string::npos);
  CHECK(checked(8, 8).alarms.find("7 cmH2O, 1 below CPAP; high 9") != std::string::npos);
}

TEST_CASE("Pressures that teaching starts with are told from others") {
  CHECK(checked(5, 10).usual_start);
  CHECK(checked(7, 12).usual_start);
  CHECK_FALSE(checked(5, 14).usual_start);
  CHECK_FALSE(checked(8, 12).usual_start);
  CHECK(checked(4, 4).usual_start);
  CHECK(checked(8, 8).usual_start);
  CHECK_FALSE(checked(10, 10).usual_start);
  CHECK(checked(5, 10).starts.find("PEEP about 5") != std::string::npos);
}

TEST_CASE("A high alarm sends to the patient first and does not blame the mask's straps") {
  const std::string words = checked(5, 10).high_alarm;
  CHECK(words.find("the patient first") < words.find("the circuit"));
  CHECK(words.find("changed compliance") != std::string::npos);
  CHECK(words.find("does not by itself raise") != std::string::npos);
}
