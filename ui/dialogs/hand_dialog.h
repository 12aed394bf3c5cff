#pragma once
#include <QDialog>

#include "ui/canvas/hand_rules.h"

class QCheckBox;
class QComboBox;

namespace yw::ui {

class LengthField;

/// Pointer and keys: what the wheel does, what a rubber band takes, how far an arrow key moves, whether
/// places catch. Each change holds at once.
class HandDialog : public QDialog {
  Q_OBJECT
 public:
  HandDialog(HandRules rules, base::UnitSystem units, QWidget* parent);
  const HandRules& rules() const { return rules_; }

 Q_SIGNALS:
  void changed(const yw::ui::HandRules& rules);

 private:
  void tell();
  void showNudge();
  HandRules rules_;
  base::UnitSystem units_;
  QComboBox *wheel_, *band_;
  QCheckBox* snaps_;
  LengthField* nudge_;
};

}  // namespace yw::ui
