import QtQuick
import QtQuick.Layouts
import Swardwalk

// Meeting the shed: one tap gives it what it lacks and takes what this tablet lacks.
Frame {
    id: page

    required property ShedModel model
    required property Shell shell
    required property Whereabouts where

    railWants: answer.wants

    component Moved: RowLayout {
        id: moved
        required property string what
        required property real share
        required property string count
        required property string ofCount
        spacing: Theme.around
        Layout.fillWidth: true
        Words {
            Layout.preferredWidth: 120
            text: moved.what
        }
        Bar {
            Layout.fillWidth: true
            implicitHeight: 20
            share: moved.share
            fill: Theme.action
        }
        Words {
            strong: true
            Layout.preferredWidth: 60
            horizontalAlignment: Text.AlignRight
            text: moved.count
        }
        Words {
            second: true
            Layout.preferredWidth: 130
            text: moved.ofCount
        }
    }

    Flickable {
        anchors.fill: parent
        contentHeight: column.implicitHeight + 2 * Theme.around
        interactive: contentHeight > height
        boundsBehavior: Flickable.StopAtBounds

        ColumnLayout {
            id: column
            x: Theme.around
            y: 20
            width: parent.width - 2 * Theme.around
            spacing: Theme.between

            Card {
                Layout.fillWidth: true
                loud: true
                implicitHeight: nowColumn.implicitHeight + 44
                ColumnLayout {
                    id: nowColumn
                    x: Theme.around
                    y: 20
                    width: parent.width - 2 * Theme.around
                    spacing: 4
                    Heading {
                        objectName: "shedTitle"
                        Layout.fillWidth: true
                        answer: true
                        text: page.model.show.title
                    }
                    Words {
                        Layout.fillWidth: true
                        second: true
                        text: page.model.show.second
                    }
                    Moved {
                        Layout.topMargin: 24
                        what: qsTr("Given")
                        share: page.model.show.givenShare
                        count: page.model.show.given
                        ofCount: page.model.show.givenOf
                    }
                    Moved {
                        Layout.topMargin: 24
                        what: qsTr("Received")
                        share: page.model.show.receivedShare
                        count: page.model.show.received
                        ofCount: page.model.show.receivedOf
                    }
                }
            }
            Repeater {
                model: page.model.alarms
                Card {
                    id: alarm
                    required property string title
                    required property string reason
                    required property int weight
                    Layout.fillWidth: true
                    implicitHeight: alarmAdvice.implicitHeight + 24
                    Advice {
                        id: alarmAdvice
                        x: Theme.between
                        y: 12
                        width: parent.width - 2 * Theme.between
                        title: alarm.title
                        reason: alarm.reason
                        weight: alarm.weight
                    }
                }
            }
            Repeater {
                model: page.model.same
                Card {
                    id: one
                    required property string patch
                    required property string other
                    required property string title
                    required property string reason
                    objectName: "sameCard"
                    Layout.fillWidth: true
                    implicitHeight: sameRow.implicitHeight + 24
                    RowLayout {
                        id: sameRow
                        x: Theme.between
                        y: 12
                        width: parent.width - 2 * Theme.between
                        spacing: Theme.between
                        Advice {
                            Layout.fillWidth: true
                            title: one.title
                            reason: one.reason
                            weight: Show.Watch
                        }
                        PlainButton {
                            objectName: "decideSame"
                            text: qsTr("Decide")
                            Accessible.name: qsTr("Decide: %1").arg(one.title)
                            onClicked: page.model.decide(one.patch, one.other)
                        }
                    }
                }
            }
            Card {
                objectName: "pairingCard"
                Layout.fillWidth: true
                visible: page.model.show.asksToPair
                implicitHeight: pairingColumn.implicitHeight + 2 * Theme.between
                ColumnLayout {
                    id: pairingColumn
                    x: Theme.between
                    y: Theme.between
                    width: parent.width - 2 * Theme.between
                    spacing: 8
                    Heading { text: page.model.show.pairedLine === "" ? qsTr("Pair this tablet") : qsTr("Pair again") }
                    Words {
                        Layout.fillWidth: true
                        second: true
                        visible: text !== ""
                        text: page.model.show.pairedLine
                    }
                    Words {
                        Layout.fillWidth: true
                        second: true
                        text: qsTr("The shed's page and its pair command show a code for one tablet, good for ten minutes. Take a picture of it with the tablet's camera, type it with the fingerprint, or paste all that is shown.")
                    }
                    PlainButton {
                        objectName: "readPicture"
                        text: qsTr("Read it from the picture")
                        enabled: !page.model.show.running
                        onClicked: page.model.readPicture()
                    }
                    Words { text: qsTr("Code") }
                    Entry {
                        Layout.fillWidth: true
                        name: "pairingCode"
                        hints: Qt.ImhNoAutoUppercase | Qt.ImhNoPredictiveText
                        most: 400
                        spoken: qsTr("Pairing code")
                        text: page.model.code
                        locked: page.model.show.running
                        onEdited: text => page.model.code = text
                    }
                    Words { text: qsTr("Fingerprint") }
                    Entry {
                        Layout.fillWidth: true
                        name: "pairingFingerprint"
                        hints: Qt.ImhNoAutoUppercase | Qt.ImhNoPredictiveText
                        most: 400
                        spoken: qsTr("Fingerprint of the shed's certificate")
                        text: page.model.fingerprint
                        locked: page.model.show.running
                        onEdited: text => page.model.fingerprint = text
                    }
                    PlainButton {
                        objectName: "pairButton"
                        Layout.topMargin: 4
                        text: qsTr("Pair with the shed")
                        enabled: page.model.show.canPair && !page.model.show.running
                        onClicked: page.model.pairNow()
                    }
                }
            }
            GridLayout {
                columns: page.portrait ? 1 : 2
                columnSpacing: Theme.between
                rowSpacing: Theme.between
                Card {
                    Layout.fillWidth: true
                    Layout.fillHeight: true
                    Layout.preferredWidth: 1
                    implicitHeight: onlyColumn.implicitHeight + 2 * Theme.between
                    ColumnLayout {
                        id: onlyColumn
                        x: Theme.between
                        y: Theme.between
                        width: parent.width - 2 * Theme.between
                        spacing: 0
                        Heading { text: qsTr("Still only on this tablet") }
                        Repeater {
                            model: page.model.onlyHere
                            ColumnLayout {
                                id: only
                                required property string what
                                required property string count
                                spacing: 0
                                RowLayout {
                                    Layout.preferredHeight: 56
                                    Words {
                                        Layout.fillWidth: true
                                        text: only.what
                                    }
                                    Words { text: only.count }
                                }
                                Rule { Layout.fillWidth: true }
                            }
                        }
                        Words {
                            Layout.topMargin: 10
                            Layout.fillWidth: true
                            second: true
                            text: qsTr("A record leaves this list when the shed says it is on its disk.")
                        }
                    }
                }
                Card {
                    Layout.fillWidth: true
                    Layout.fillHeight: true
                    Layout.preferredWidth: 1
                    implicitHeight: visitColumn.implicitHeight + 2 * Theme.between
                    ColumnLayout {
                        id: visitColumn
                        x: Theme.between
                        y: Theme.between
                        width: parent.width - 2 * Theme.between
                        spacing: 0
                        Heading { text: qsTr("Last exchanges") }
                        Words {
                            visible: visits.count === 0
                            Layout.topMargin: 12
                            Layout.fillWidth: true
                            second: true
                            text: qsTr("None yet.")
                        }
                        Repeater {
                            id: visits
                            model: page.model.visits
                            ColumnLayout {
                                id: visit
                                required property string when
                                required property string given
                                required property string received
                                required property string words
                                spacing: 0
                                RowLayout {
                                    Layout.preferredHeight: 56
                                    spacing: 6
                                    Words {
                                        Layout.fillWidth: true
                                        text: visit.when
                                        wrapMode: Text.NoWrap
                                        elide: Text.ElideRight
                                    }
                                    Words {
                                        visible: visit.words !== ""
                                        second: true
                                        color: Theme.watch
                                        text: visit.words
                                    }
                                    Words {
                                        visible: visit.words === ""
                                        text: visit.given
                                    }
                                    Words {
                                        visible: visit.words === ""
                                        second: true
                                        text: qsTr("given")
                                    }
                                    Words {
                                        visible: visit.words === ""
                                        Layout.preferredWidth: 54
                                        horizontalAlignment: Text.AlignRight
                                        text: visit.received
                                    }
                                    Words {
                                        visible: visit.words === ""
                                        second: true
                                        text: qsTr("received")
                                    }
                                }
                                Rule { Layout.fillWidth: true }
                            }
                        }
                        Words {
                            visible: text !== ""
                            Layout.topMargin: 10
                            Layout.fillWidth: true
                            second: true
                            text: page.model.show.together
                        }
                    }
                }
            }
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        Heading { text: qsTr("The shed") }
        ColumnLayout {
            Layout.fillWidth: true
            spacing: 6
            Words {
                second: true
                text: qsTr("Address")
            }
            Entry {
                Layout.fillWidth: true
                name: "shedAddress"
                most: 400
                spoken: qsTr("Address of the shed")
                hints: Qt.ImhUrlCharactersOnly | Qt.ImhNoAutoUppercase
                text: page.model.address
                locked: page.model.show.running
                onEdited: text => page.model.address = text
            }
            Words {
                Layout.fillWidth: true
                second: true
                text: qsTr("The server prints it when it starts.")
            }
        }
        Rule { Layout.fillWidth: true }
        ColumnLayout {
            spacing: 6
            Words {
                second: true
                text: qsTr("This tablet")
            }
            Segments {
                name: qsTr("Theme")
                choices: [qsTr("Sun"), qsTr("Dark")]
                current: page.shell.dark ? 1 : 0
                onChoose: index => page.shell.dark = index === 1
            }
            Segments {
                name: qsTr("Hand")
                choices: [qsTr("Right hand"), qsTr("Left hand")]
                current: page.shell.leftHanded ? 1 : 0
                onChoose: index => page.shell.leftHanded = index === 1
            }
            Segments {
                objectName: "unitsChoice"
                name: qsTr("Units")
                choices: [qsTr("Metric"), qsTr("Imperial")]
                current: page.shell.imperial ? 1 : 0
                onChoose: index => page.shell.imperial = index === 1
            }
            Words {
                objectName: "receiverLine"
                Layout.fillWidth: true
                second: true
                text: page.where.receiver
            }
        }
        Words {
            Layout.fillWidth: true
            visible: text !== ""
            second: true
            color: Theme.watch
            text: page.shell.incomplete
        }

        actions: BigAction {
            objectName: "exchangeButton"
            Layout.fillWidth: true
            outlined: page.model.show.running
            enabled: page.model.show.running || page.model.show.canStart
            text: page.model.show.running ? qsTr("Stop for now") : qsTr("Exchange now")
            onClicked: {
                if (page.model.show.running)
                    page.model.stop();
                else
                    page.model.exchangeNow();
            }
        }
    }
}
