#pragma once
#include "ui/panels/form_part.h"

class QLabel;
class QPushButton;

namespace yw::ui {

class ReferenceField;

/// How a box gets its mains: one cord for all its supplies, from an outlet or another box's strip; or none,
/// and each supply has its own.
class BoxCordPart : public FormPart {
  Q_OBJECT
 public:
  BoxCordPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 private:
  QString plugInto(base::Id source);
  ReferenceField* from_;
  QLabel* words_;
  QPushButton* open_;
};

/// A supply's own mains cord: opened, and made where it has no record yet, to say its wire, length and
/// pieces.
class SupplyCordPart : public FormPart {
  Q_OBJECT
 public:
  SupplyCordPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 private:
  void open();
  QLabel* words_;
  QPushButton* open_;
};

/// What a mains cord carries, may carry and loses, in words; empty for other cables.
QString cordText(const Document& document, const routes::CableKey& key);

}  // namespace yw::ui
