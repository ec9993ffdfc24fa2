using System.CommandLine;
using LiveStems.Albums.Journal;
using LiveStems.Albums.Storage;

namespace LiveStems.App.Verbs;

/// <summary><c>recover</c>: changes that a crash kept from being saved.</summary>
internal static class RecoverVerb
{
    /// <summary>The verb.</summary>
    public static Command Create()
    {
        Argument<string> album = CommonOptions.Album();
        Option<bool> leave = new("--leave") { Description = "Leaves the album as it was saved; 'livestems undo' brings the changes back." };
        Command verb = new("recover", "Takes in changes that were journalled but not saved when a session ended.") { album, leave };
        verb.AddExamples("livestems recover Album", "livestems recover Album --leave");
        verb.SetAction(parsed =>
        {
            string path = parsed.GetRequiredValue(album);
            TextWriter output = parsed.InvocationConfiguration.Output;
            UnsavedChanges? changes = AlbumSession.FindUnsaved(path, Processors.Catalogue);
            using AlbumSession session = AlbumSession.Open(path, Processors.Catalogue, parsed.GetValue(leave) ? Unsaved.Leave : Unsaved.TakeIn);
            session.Flush();
            output.WriteLine(session.Remark ?? "nothing to recover: everything is saved");
            foreach (string words in changes?.Words ?? [])
            {
                output.WriteLine($"  {words}");
            }

            return 0;
        });
        return verb;
    }
}
