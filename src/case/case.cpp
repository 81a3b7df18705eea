#include "case/case.hpp"

namespace rimload {

std::string_view name_of(Posture posture) {
  switch (posture) {
    case Posture::seated: return "seated";
    case Posture::supine: return "supine";
    case Posture::left_side: return "left_side";
    case Posture::right_side: return "right_side";
    case Posture::semi_recumbent: break;
  }
  return "semi_recumbent";
}

std::string_view name_of(Circuit circuit) {
  switch (circuit) {
    case Circuit::single_limb_passive: return "single_limb_passive";
    case Circuit::single_limb_active: return "single_limb_active";
    case Circuit::dual_limb: return "dual_limb";
    case Circuit::not_named: break;
  }
  return "not_named";
}

std::string_view name_of(StrapWord word) {
  switch (word) {
    case StrapWord::loose: return "loose";
    case StrapWord::appropriate: return "appropriate";
    case StrapWord::tight: return "tight";
    case StrapWord::below_window: return "below_window";
    case StrapWord::above_window: return "above_window";
    case StrapWord::in_window: break;
  }
  return "in_window";
}

std::string_view name_of(Dentures dentures) {
  switch (dentures) {
    case Dentures::in: return "in";
    case Dentures::out: return "out";
    case Dentures::loose: return "loose";
    case Dentures::not_said: break;
  }
  return "not_said";
}

std::string_view name_of(MouthOpening mouth) {
  switch (mouth) {
    case MouthOpening::open_at_rest: return "open_at_rest";
    case MouthOpening::mouth_breather: return "mouth_breather";
    case MouthOpening::closed: break;
  }
  return "closed";
}

std::string_view name_of(FingerCheck check) {
  switch (check) {
    case FingerCheck::one_finger: return "one_finger";
    case FingerCheck::none: return "none";
    case FingerCheck::two_fingers: break;
  }
  return "two_fingers";
}

std::string_view name_of(SkinState state) {
  switch (state) {
    case SkinState::red_blanches: return "red_blanches";
    case SkinState::red_does_not_blanch: return "red_does_not_blanch";
    case SkinState::broken: return "broken";
    case SkinState::unchanged: break;
  }
  return "unchanged";
}

bool is_injury(SkinState state) {
  return state == SkinState::red_does_not_blanch || state == SkinState::broken;
}

}  // namespace rimload
