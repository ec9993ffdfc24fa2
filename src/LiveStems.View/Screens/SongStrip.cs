using LiveStems.Albums.Model;
using LiveStems.View.Controls;
using LiveStems.View.Desk;

namespace LiveStems.View.Screens;

/// <summary>The songs of the album in order: press one to work on it.</summary>
internal sealed class SongStrip(AlbumDesk desk) : Control
{
    private const float WidestTile = 210;
    private const float Gap = 4;

    public override bool CanFocus => true;

    public override PointerShape PointerShape => PointerShape.Hand;

    private float TileWidth => Math.Min(WidestTile, (Bounds.Width + Gap) / Math.Max(1, desk.Album.Songs.Length) - Gap);

    public override void Draw(Painter painter)
    {
        for (int i = 0; i < desk.Album.Songs.Length; i++)
        {
            Song song = desk.Album.Songs[i];
            Box tile = new(Bounds.X + i * (TileWidth + Gap), Bounds.Y, TileWidth, Bounds.Height);
            bool isShown = i == desk.SongIndex;
            painter.Fill(tile, isShown ? Tone.Raised : Tone.Panel, radius: 4);
            if (isShown)
            {
                painter.Fill(new(tile.X + 4, tile.Bottom - 3, tile.Width - 8, 3), Tone.Chosen, radius: 1.5f);
            }

            painter.Text($"{i + 1}", new(tile.X + 9, tile.Y, 18, tile.Height - 2), Tone.Quiet, Lettering.Large);
            painter.Text(song.Title, new(tile.X + 30, tile.Y + 4, tile.Width - 36, 17), isShown ? Tone.Text : Tone.Quiet, isShown ? Lettering.Strong : Lettering.Plain);
            int corrections = song.Stems.Sum(stem => stem.Chain.Slots.Length + stem.Parallels.Sum(parallel => parallel.Chain.Slots.Length)) + song.Bus.Slots.Length;
            string loudness = desk.Songs.Of(i) is { } known && !desk.Songs.IsOld(i) ? FrequencyText.OfDb(known.Loudness.IntegratedLufs, "LUFS") : $"{song.Stems.Length} stems";
            string state = $"{loudness} · {AlbumWords.State[song.State]} · {corrections} corrections";
            painter.Text(state, new(tile.X + 30, tile.Y + 19, tile.Width - 36, 14), Tone.Quiet, Lettering.Small);
        }

        if (HasFocus)
        {
            painter.Frame(Bounds, Tone.Focus, 1.5f, 4);
        }
    }

    public override bool Press(in PointerEvent pointer)
    {
        int under = (int)((pointer.X - Bounds.X) / (TileWidth + Gap));
        if (under >= 0 && under < desk.Album.Songs.Length)
        {
            desk.ShowSong(under);
        }

        return false;
    }

    public override bool KeyDown(Key key, Modifiers modifiers)
    {
        if (modifiers != Modifiers.None || key is not (Key.Left or Key.Right))
        {
            return false;
        }

        desk.ShowSong(desk.SongIndex + (key == Key.Left ? -1 : 1));
        return true;
    }
}
