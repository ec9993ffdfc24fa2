using System.Text.Json;
using LiveStems.View.Controls;
using LiveStems.View.Desk;
using LiveStems.View.Window;

namespace LiveStems.View.Screens;

/// <summary>Writes the state of the desk as a line of JSON whenever it is another: what tests from outside look at.</summary>
internal sealed class DeskTrace(AlbumDesk desk, TextWriter writer)
{
    private static readonly JsonSerializerOptions Form = new() { PropertyNamingPolicy = JsonNamingPolicy.CamelCase };

    private string written = string.Empty;
    private double lastAt;

    /// <summary>Writes a line if there is news, at most twenty times a second.</summary>
    public void Write(WindowLoop loop, MainScreen screen)
    {
        double now = Environment.TickCount64 / 1000.0;
        if (now - lastAt < 0.05)
        {
            return;
        }

        lastAt = now;
        Box spectrum = screen.Spectrum.Spectrum.Bounds;
        string line = JsonSerializer.Serialize(
            new
            {
                Song = desk.Song.Title,
                desk.Transport.IsPlaying,
                PositionSeconds = Math.Round(desk.Transport.PositionSeconds, 1),
                desk.IsWholeAlbum,
                Recording = desk.Recording.IsRunning ? Math.Round(desk.Recording.Seconds, 1) : (double?)null,
                RecordingFile = desk.Recording.FilePath,
                desk.Monitor.BandListen,
                BandCentreHz = Math.Round(desk.Monitor.Settings.BandCentreHz, 2),
                BandWidthOctaves = Math.Round(desk.Monitor.Settings.BandWidthOctaves, 3),
                Compare = $"{desk.Compare.Side}",
                Selection = $"{desk.Chain.Name}",
                Slot = desk.Selection.Slot,
                Undo = desk.UndoWords,
                Redo = desk.RedoWords,
                Loop = desk.Transport.Loop is { } stretch ? new[] { Math.Round(stretch.Start, 2), Math.Round(stretch.End, 2) } : null,
                DrawnLoop = screen.Lanes.ShownLoop is { } drawn ? new[] { Math.Round(drawn.From, 3), Math.Round(drawn.To, 3) } : null,
                Shown = new[] { Math.Round(screen.Lanes.Span.From, 4), Math.Round(screen.Lanes.Span.To, 4) },
                Lanes = new[] { screen.Lanes.PlotBox.X, screen.Lanes.PlotBox.Y, screen.Lanes.PlotBox.Width, screen.Lanes.PlotBox.Height },
                Markers = desk.Song.Markers.Select(marker => marker.Name),
                Order = desk.Chain.Processors.Select(processor => processor.Name),
                Values = screen.Chain.Everything().OfType<ValueBox>().Select(box => new { box.Value.Name, Box = new[] { box.Bounds.X, box.Bounds.Y, box.Bounds.Width, box.Bounds.Height } }),
                EngineValues = desk.Chain.Selected is { Running: { } running } ? running.Description.Parameters.Index().ToDictionary(each => each.Item.Id, each => running.GetParameter(each.Index)) : null,
                Soloed = desk.Stems.Where(stem => stem.IsSoloed).Select(stem => stem.Name),
                Stems = desk.Stems.Select(stem => stem.Name),
                TargetLufs = desk.Targets.OfSong.IntegratedLufs,
                Device = desk.Devices.Words,
                desk.Monitor.Settings.BandSlopeDbPerOctave,
                GainsDb = desk.Stems.Select(stem => stem.Gain.Value),
                Spectrum = new[] { spectrum.X, spectrum.Y, spectrum.Width, spectrum.Height },
                Focus = loop.Host.Focus is { } focus ? new[] { focus.Bounds.X, focus.Bounds.Y, focus.Bounds.Width, focus.Bounds.Height } : null,
                Overlays = loop.Host.Overlays.Count,
                Drawer = screen.Drawer.IsVisible ? screen.Drawer.Page.Id : null,
                Lines = screen.Drawer.IsVisible ? screen.Drawer.List.Lines.Count : 0,
                Notes = desk.Song.Notes.Length + desk.Song.Stems.Sum(stem => stem.Notes.Length),
                GlObjects = GlObjects.Count,
                ContextsLost = loop.ContextsLost,
                Said = desk.Messages.Count == 0 ? null : desk.Messages[^1].Text,
                desk.Device.Statistics.Underruns,
            },
            Form);
        if (line != written)
        {
            written = line;
            writer.WriteLine(line);
            writer.Flush();
        }
    }
}
