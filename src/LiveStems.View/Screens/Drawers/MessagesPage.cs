using System.Globalization;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens.Drawers;

/// <summary>What was said since the album was opened, the latest first; the bar at the lower edge shows each line for some seconds only.</summary>
internal sealed class MessagesPage(AlbumDesk desk) : DrawerPage(desk)
{
    /// <summary>The key that opens it.</summary>
    public const string OwnKey = "F9";

    public override string Id => "messages";

    public override string Name => "messages";

    public override string Key => OwnKey;

    public override string Purpose => "What was said, the latest 200 lines";

    public override string SearchWords => "log history remark refusal warning trouble news";

    public override string Explanation => "The latest stands first. Refusals and troubles are marked: a refusal changed nothing.";

    public override object State => Desk.Messages.Count == 0 ? 0 : Desk.Messages[^1];

    public override IReadOnlyList<DrawerLine> Lines() =>
    [
        .. Desk.Messages.Reverse().Select(message => new DrawerLine(message.Text, message.At.ToString("HH:mm:ss", CultureInfo.InvariantCulture))
        {
            Tone = message.Kind == MessageKind.Remark ? Tone.Text : Tone.Alarm,
            About = message,
        }),
    ];
}
